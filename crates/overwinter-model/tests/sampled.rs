//! What is drawn for sampled seasons has the means and the spreads that it is drawn from.

mod cases;

use cases::{air_chances, camera_chances};
use overwinter_model::Voltage;
use overwinter_model::cell::Makes;
use overwinter_model::cell::catalogue::CATALOGUE;
use overwinter_model::pack::Pack;
use overwinter_model::paths::{CameraChances, Drawn, SampledAir, Traffic};
use overwinter_model::random::{GammaQuantile, Key};

/// Seasons side by side.
const L: usize = 8;

/// So many draws of everything.
const DRAWS: u32 = 20_000;

fn drawn(first: u32) -> Drawn<L> {
    Drawn {
        key: Key(3),
        paths: std::array::from_fn(|lane| first + lane as u32),
    }
}

fn groups() -> impl Iterator<Item = Drawn<L>> {
    (0..DRAWS).step_by(L).map(drawn)
}

/// Sums of pairs of numbers.
#[derive(Default)]
struct Pairs {
    count: f64,
    sums: [f64; 2],
    products: [f64; 3],
}

impl Pairs {
    fn add(&mut self, a: f64, b: f64) {
        self.count += 1.0;
        for (sum, x) in self.sums.iter_mut().zip([a, b]) {
            *sum += x;
        }
        for (sum, x) in self.products.iter_mut().zip([a * a, b * b, a * b]) {
            *sum += x;
        }
    }

    fn mean(&self) -> f64 {
        self.sums[0] / self.count
    }

    fn sd(&self) -> f64 {
        (self.products[0] / self.count - self.mean().powi(2)).sqrt()
    }

    fn covariance(&self) -> f64 {
        self.products[2] / self.count - self.sums[0] * self.sums[1] / (self.count * self.count)
    }
}

/// Within four in a hundred of the spread: of 20,000 draws, five standard errors and more.
fn is(found: f64, expected: f64, spread: f64) {
    assert!(
        (found - expected).abs() < 0.04 * spread,
        "{found} {expected}"
    );
}

#[test]
fn air_swings_as_its_chances_say() {
    let chances = air_chances();
    let month = chances.months[0];
    let [mut warmer, mut wider, mut clearer] = [(); 3].map(|()| Pairs::default());
    for drawn in groups() {
        let mut air = SampledAir::new(drawn, &chances);
        let (first, second) = (air.next_day(0), air.next_day(0));
        for lane in 0..L {
            warmer.add(first.warmer_k.0[lane], second.warmer_k.0[lane]);
            wider.add(first.wider_k.0[lane], second.wider_k.0[lane]);
            clearer.add(first.clearer.0[lane], second.clearer.0[lane]);
        }
    }
    // A season's own mean comes to a day's swing.
    let of_both = (month.temperature_sd_k.powi(2) + chances.winters_sd_k.powi(2)).sqrt();
    for (found, sd) in [
        (&warmer, of_both),
        (&wider, month.range_sd_k),
        (&clearer, month.clearness_sd),
    ] {
        is(found.mean(), 0.0, sd);
        is(found.sd(), sd, sd);
    }
    // Temperature keeps 0.7 of itself from day to day, and the season's mean all; a range keeps nothing.
    let kept = 0.7 * month.temperature_sd_k.powi(2) + chances.winters_sd_k.powi(2);
    is(warmer.covariance(), kept, of_both.powi(2));
    is(wider.covariance(), 0.0, month.range_sd_k.powi(2));
}

/// A month that there is not.
#[test]
fn air_of_no_month_is_as_expected() {
    let chances = air_chances();
    let day = SampledAir::new(drawn(0), &chances).next_day(12);
    assert!((day.warmer_k.0).iter().all(|x| x.to_bits() == 0));
}

#[test]
fn factors_have_a_mean_of_one() {
    let chances = camera_chances();
    let mut cell = CATALOGUE[0].cell;
    cell.makes = Makes::ALIKE;
    let pack = Pack::new(&cell, 1, 1).unwrap();
    let mut factors = [(); 2].map(|()| Pairs::default());
    for drawn in groups() {
        let luck = chances.luck(&drawn, &pack);
        for lane in 0..L {
            let of = [luck.airtime, luck.weakest];
            for (factor, of) in factors.iter_mut().zip(of) {
                factor.add(of.0[lane], luck.airtime.0[lane]);
            }
        }
    }
    let sds = [chances.airtime_sd_ln, cell.spread];
    for (number, (factor, sd)) in factors.iter().zip(sds).enumerate() {
        is(factor.mean(), 1.0, sd);
        // That of a factor is a little more than that of its logarithm.
        let sd_of_factor = ((sd * sd).exp() - 1.0).sqrt();
        is(factor.sd(), sd_of_factor, 2.0 * sd);
        if number > 0 {
            is(factor.covariance(), 0.0, sd * chances.airtime_sd_ln);
        }
    }
}

/// What nobody has measured is the same in cameras of one model, and its units and other models know nothing
/// of it.
#[test]
fn cameras_of_a_model_share_what_is_not_known() {
    let one = camera_chances();
    let same = CameraChances {
        stream: 70,
        ..one.clone()
    };
    let other = CameraChances {
        model: 80,
        ..one.clone()
    };
    let mut pairs = [(); 4].map(|()| Pairs::default());
    for drawn in groups() {
        let ours = one.of_model(&drawn, 3);
        assert_eq!(ours, same.of_model(&drawn, 3));
        let others = [
            other.of_model(&drawn, 3),
            one.of_model(&drawn, 4),
            one.of_unit(&drawn, 3),
            same.of_unit(&drawn, 3),
        ];
        for (pair, other) in pairs.iter_mut().zip(others) {
            for lane in 0..L {
                pair.add(other.0[lane], ours.0[lane]);
            }
        }
    }
    for pair in pairs {
        is(pair.mean(), 0.0, 1.0);
        is(pair.sd(), 1.0, 2.0);
        is(pair.covariance(), 0.0, 1.0);
    }
}

/// Makes differ by logarithms about the median one, and capacity and resistance go together as they say.
#[test]
fn makes_differ_as_the_cell_says() {
    let mut cell = CATALOGUE[0].cell;
    cell.spread = 0.0;
    cell.makes = Makes {
        capacity: 0.06,
        resistance: 0.15,
        correlation: -0.5,
        open_circuit: Voltage::from_volts(0.01),
    };
    let makes = cell.makes;
    let pack = Pack::new(&cell, 1, 1).unwrap();
    let (mut capacity, mut volts) = (Pairs::default(), Pairs::default());
    let mut beyond = Pairs::default();
    for drawn in groups() {
        let luck = camera_chances().luck(&drawn, &pack);
        for lane in 0..L {
            let resistance = luck.resistance.0[lane].ln();
            capacity.add(luck.ordinary.0[lane].ln(), resistance);
            volts.add(luck.open_circuit.si().0[lane], resistance);
            beyond.add(luck.beyond_resistance.0[lane], luck.beyond_reach.0[lane]);
        }
    }
    let volts_sd = makes.open_circuit.as_volts();
    is(capacity.mean(), 0.0, makes.capacity);
    is(capacity.sd(), makes.capacity, makes.capacity);
    let both = makes.capacity * makes.resistance;
    is(capacity.covariance(), makes.correlation * both, both);
    is(volts.mean(), 0.0, volts_sd);
    is(volts.sd(), volts_sd, volts_sd);
    is(volts.covariance(), 0.0, volts_sd * makes.resistance);
    let apart = cell.beyond_points;
    is(beyond.mean(), 0.0, apart.resistance);
    is(beyond.sd(), apart.resistance, apart.resistance);
    is(beyond.covariance(), 0.0, apart.resistance * apart.reach);
}

/// Packs of one purchase are of one make, others of others; what nobody has measured is the same for all cells
/// of a chemistry.
#[test]
fn a_purchase_is_of_one_make() {
    let pack = Pack::new(&CATALOGUE[0].cell, 1, 1).unwrap();
    let of = |stream, purchase| {
        let chances = CameraChances {
            stream,
            purchase,
            ..camera_chances()
        };
        chances.luck(&drawn(0), &pack)
    };
    let (first, same, other) = (of(1, 1), of(2, 1), of(1, 2));
    assert_eq!(first.resistance, same.resistance);
    assert_eq!(first.open_circuit, same.open_circuit);
    assert_ne!(first.resistance, other.resistance);
    assert_eq!(first.beyond_resistance, other.beyond_resistance);
}

/// A pack stands for the mean of its weakest cells.
#[test]
fn the_weakest_cell_is_in_the_mean_the_one_that_a_pack_is_taken_for() {
    let chances = camera_chances();
    let mut cell = CATALOGUE[0].cell;
    cell.makes = Makes::ALIKE;
    for series in [2, 8, 24] {
        let pack = Pack::new(&cell, series, 1).unwrap();
        let taken_for = pack.weakest().capacity() / cell.capacity;
        let mut weakest = Pairs::default();
        for drawn in groups() {
            let luck = chances.luck(&drawn, &pack);
            for lane in 0..L {
                weakest.add(luck.weakest.0[lane], 0.0);
                let of_cell = luck.weakest.0[lane] * taken_for;
                assert!(luck.ordinary.0[lane] >= of_cell * (1.0 - 1e-12));
            }
        }
        is(weakest.mean(), 1.0, cell.spread);
    }
}

/// A block's animals are drawn by numbers of their own, which no other draw of the season's first day takes.
#[test]
fn animals_know_nothing_of_the_camera() {
    let chances = CameraChances {
        rate_sd_ln: 0.0,
        ..camera_chances()
    };
    let pack = Pack::new(&CATALOGUE[0].cell, 1, 1).unwrap();
    let mut pairs = [(); 16].map(|()| Pairs::default());
    for drawn in groups() {
        let luck = chances.luck(&drawn, &pack);
        let mut traffic = chances.traffic(&drawn);
        let [first, _, cells, camera] =
            std::array::from_fn(|block| traffic.of_block(0, block as u32, (3.0, 3.0)));
        let unit = chances.of_unit(&drawn, 0);
        let of = [luck.weakest, luck.resistance, unit, luck.airtime];
        let passes = [cells.0, cells.1, camera.0, camera.1];
        for (number, pair) in pairs.iter_mut().enumerate() {
            let (passes, of) = (passes[number % 4], of[number / 4]);
            for lane in 0..L {
                pair.add(passes.0[lane], of.0[lane]);
            }
        }
        assert!(first.0.0.iter().all(|passes| *passes >= 0.0));
    }
    for pair in pairs {
        let (a, b) = (pair.sd(), pair.products[1] / pair.count);
        let b = (b - (pair.sums[1] / pair.count).powi(2)).sqrt();
        is(pair.covariance(), 0.0, a * b);
    }
}

#[test]
fn animals_come_in_blocks_of_their_own_and_on_days_of_their_own() {
    let shape = 1.35;
    let chances = CameraChances {
        day_share: GammaQuantile::new(shape).unwrap(),
        rate_sd_ln: 0.0,
        ..camera_chances()
    };
    let expected = (3.0, 5.0);
    let [mut by_day, mut by_night, mut blocks, mut days] = [(); 4].map(|()| Pairs::default());
    for drawn in groups() {
        let mut traffic = chances.traffic(&drawn);
        let (day, night) = traffic.of_block(0, 0, expected);
        let (later, _) = traffic.of_block(0, 1, expected);
        let (tomorrow, _) = traffic.of_block(1, 0, expected);
        for lane in 0..L {
            by_day.add(day.0[lane], night.0[lane]);
            by_night.add(night.0[lane], 0.0);
            blocks.add(day.0[lane], later.0[lane]);
            days.add(day.0[lane], tomorrow.0[lane]);
        }
    }
    // A day's share has a mean of 1 and a variance of 1 over its shape; passes are Poisson's on top.
    let variance = |mean: f64| mean + mean * mean / shape;
    for (found, mean) in [(&by_day, expected.0), (&by_night, expected.1)] {
        let sd = variance(mean).sqrt();
        is(found.mean(), mean, sd);
        is(found.sd(), sd, 2.0 * sd);
    }
    is(by_day.covariance(), 15.0 / shape, variance(5.0));
    is(blocks.covariance(), 9.0 / shape, 2.0 * variance(3.0));
    is(days.covariance(), 0.0, variance(3.0));
}
