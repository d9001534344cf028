//! Whether drawn numbers look like what they should be.
//!
//! Seeds are fixed, so a test passes for good or fails for good. Had they not been, one of them in a
//! million runs of all would fail for nothing: each figure may be off by 5.7 standard errors, which
//! a normal one exceeds with 1.2e-8, and there are fewer than 80 figures.

use super::*;

const STANDARD_ERRORS: f64 = 5.7;
const LANES: usize = 8;
const SEED: Key = Key(20_261_125);

/// Fails if a figure is further from what is expected than chance explains.
#[track_caller]
fn expect(what: &str, figure: f64, expected: f64, standard_error: f64) {
    let off = (figure - expected) / standard_error;
    assert!(
        off.abs() < STANDARD_ERRORS,
        "{what}: {figure} for {expected}, off by {off} standard errors"
    );
}

/// Mean of a figure over a sample.
#[derive(Default)]
struct Mean {
    sum: f64,
    count: f64,
}

impl Mean {
    fn add(&mut self, value: f64) {
        self.sum += value;
        self.count += 1.0;
    }

    fn of(values: impl IntoIterator<Item = f64>) -> Self {
        let mut mean = Self::default();
        values.into_iter().for_each(|value| mean.add(value));
        mean
    }

    /// Fails if it is not `expected`, given the standard deviation of one value.
    #[track_caller]
    fn expect(&self, what: &str, expected: f64, deviation: f64) {
        let standard_error = deviation / self.count.sqrt();
        expect(what, self.sum / self.count, expected, standard_error);
    }
}

/// Paths `first_path` and on.
fn paths(first_path: u32) -> [u32; LANES] {
    core::array::from_fn(|lane| first_path + lane as u32)
}

/// Four normal numbers of eight paths.
fn normals(key: Key, first_path: u32, draw: Draw) -> [[f64; LANES]; 4] {
    bits(key, paths(first_path), draw).map(|word| normal(uniform(word)))
}

fn on_day(day: u32) -> Draw {
    Draw {
        day,
        purpose: 2,
        stream: 5,
    }
}

#[test]
fn normal_numbers_have_normal_moments_and_tails() {
    let sample: std::vec::Vec<f64> = (0..20_000)
        .flat_map(|day| normals(SEED, 40, on_day(day)))
        .flatten()
        .collect();
    let power = |n: i32| Mean::of(sample.iter().map(|z| z.powi(n)));
    power(1).expect("mean", 0.0, 1.0);
    // Variances of z², z³ and z⁴: 3 - 1, 15 and 105 - 9.
    power(2).expect("second moment", 1.0, 2.0_f64.sqrt());
    power(3).expect("third moment", 0.0, 15.0_f64.sqrt());
    power(4).expect("fourth moment", 3.0, 96.0_f64.sqrt());
    for limit in [-4.0, -3.0, -2.0, -1.0, 1.0, 2.0, 3.0, 4.0_f64] {
        let beyond = |z: &f64| z / limit > 1.0;
        let share = 0.5 * libm::erfc(limit.abs() / core::f64::consts::SQRT_2);
        Mean::of(sample.iter().map(|z| f64::from(u8::from(beyond(z))))).expect(
            "share beyond a limit",
            share,
            (share * (1.0 - share)).sqrt(),
        );
    }
}

/// Neither the numbers nor their sizes go together with those of a neighbour in any direction.
#[test]
fn neighbours_are_independent() {
    type Other = fn(u32) -> [[f64; LANES]; 4];
    let others: [(&str, Other); 7] = [
        ("next day", |day| normals(SEED, 0, on_day(day + 1))),
        ("next week", |day| normals(SEED, 0, on_day(day + 7))),
        ("next path", |day| normals(SEED, 1, on_day(day))),
        ("next purpose", |day| {
            let draw = on_day(day);
            let purpose = draw.purpose + 1;
            normals(SEED, 0, Draw { purpose, ..draw })
        }),
        ("next stream", |day| {
            let draw = on_day(day);
            let stream = draw.stream + 1;
            normals(SEED, 0, Draw { stream, ..draw })
        }),
        ("next seed", |day| normals(Key(SEED.0 + 1), 0, on_day(day))),
        ("next word", |day| {
            let [a, b, c, d] = normals(SEED, 0, on_day(day));
            [b, c, d, a]
        }),
    ];
    for (what, other) in others {
        let (mut product, mut size_product) = (Mean::default(), Mean::default());
        for day in 0..8_000 {
            let these = normals(SEED, 0, on_day(day));
            let pairs = these
                .as_flattened()
                .iter()
                .zip(other(day).into_iter().flatten());
            for (a, b) in pairs {
                product.add(a * b);
                size_product.add((a * a - 1.0) * (b * b - 1.0) / 2.0);
            }
        }
        product.expect(what, 0.0, 1.0);
        size_product.expect(what, 0.0, 1.0);
    }
}

/// Everything drawn for one day, as bits.
fn day_of<const L: usize>(paths: [u32; L]) -> std::vec::Vec<[u64; 4]> {
    let quantile = GammaQuantile::new(0.6).unwrap();
    let law = AnomalyLaw::new([0.7, 0.4], -0.5).unwrap();
    let [a, b, c, d] = bits(SEED, paths, on_day(3)).map(uniform);
    let factor = quantile.at(normal(a));
    let count = poisson(factor.map(|factor| 8.0 * factor), b);
    let start = Anomalies::start(&law, [normal(c), normal(d)]);
    let Anomalies { t, c } = start.next(&law, [normal(a), normal(b)]);
    let mut out = std::vec![[0; 4]; L];
    for (lane, out) in out.iter_mut().enumerate() {
        *out = [factor[lane], count[lane], t[lane], c[lane]].map(f64::to_bits);
    }
    out
}

#[test]
fn a_path_has_the_same_bits_at_any_width() {
    fn in_chunks<const L: usize>() -> std::vec::Vec<[u64; 4]> {
        (0..480 / L)
            .flat_map(|chunk| day_of::<L>(core::array::from_fn(|lane| (chunk * L + lane) as u32)))
            .collect()
    }
    let one = in_chunks::<1>();
    assert_eq!(one, in_chunks::<4>());
    assert_eq!(one, in_chunks::<8>());
    assert_eq!(one, in_chunks::<16>());
}

/// Recorded once: other machines, compilers and instruction sets have to give the same.
#[test]
fn a_path_has_the_same_bits_on_any_machine() {
    let recorded = [
        0x3FDD_32EE_6052_6733,
        0x4000_0000_0000_0000,
        0x3FD8_64F2_2A12_B15D,
        0xBFEB_5529_0E06_1422,
    ];
    assert_eq!(day_of([1]), [recorded]);
}

/// A Poisson count whose mean is a gamma number is negative binomial.
#[test]
fn poisson_of_a_gamma_mean_is_negative_binomial() {
    for (mean, shape) in [(1.2, 0.2), (5.0, 0.7), (5.0, 30.0), (40.0, 2.0)] {
        let quantile = GammaQuantile::new(shape).unwrap();
        let (mut first, mut second, mut none) = <(Mean, Mean, Mean)>::default();
        for day in 0..25_000 {
            let [a, b, ..] = bits(SEED, paths(0), on_day(day)).map(uniform);
            let means = quantile.at(normal(a)).map(|factor| mean * factor);
            for count in poisson(means, b) {
                first.add(count);
                second.add((count - mean) * (count - mean));
                none.add(f64::from(u8::from(count < 0.5)));
            }
        }
        // Variance V = m + m²/k; in a natural exponential family the fourth cumulant is
        // V (V'² + V V'') (Morris 1982, Annals of Statistics 10(1)).
        let variance = mean + mean * mean / shape;
        let slope = 1.0 + 2.0 * mean / shape;
        let fourth_cumulant = variance * (slope * slope + variance * 2.0 / shape);
        let zero_share = (1.0 + mean / shape).powf(-shape);
        first.expect("mean", mean, variance.sqrt());
        second.expect(
            "variance",
            variance,
            (2.0 * variance * variance + fourth_cumulant).sqrt(),
        );
        none.expect(
            "share of zeros",
            zero_share,
            (zero_share * (1.0 - zero_share)).sqrt(),
        );
    }
}

/// Long paths: lag-1 correlations and that on one day. Standard errors from Bartlett's formula; the
/// last is an upper bound.
#[test]
fn anomalies_persist_and_go_together_as_asked() {
    const DAYS: u32 = 25_000;
    for (persistence, correlation) in [([0.75, 0.3], -0.5), ([0.2, 0.6], 0.3), ([0.0, 0.0], 0.9)] {
        let law = AnomalyLaw::new(persistence, correlation).unwrap();
        let news = |day| {
            let [t, c, ..] = normals(SEED, 0, on_day(day));
            [t, c]
        };
        let mut today = Anomalies::start(&law, news(0));
        let (mut lag_t, mut lag_c, mut same_day) = <(Mean, Mean, Mean)>::default();
        let (mut square_t, mut square_c) = <(Mean, Mean)>::default();
        for day in 1..DAYS {
            let next = today.next(&law, news(day));
            for lane in 0..LANES {
                lag_t.add(today.t[lane] * next.t[lane]);
                lag_c.add(today.c[lane] * next.c[lane]);
                same_day.add(next.t[lane] * next.c[lane]);
                square_t.add(next.t[lane] * next.t[lane]);
                square_c.add(next.c[lane] * next.c[lane]);
            }
            today = next;
        }
        let [phi_t, phi_c] = persistence;
        let over = |a: &Mean, b: &Mean| a.sum / b.sum;
        let count = same_day.count;
        let lag_error = |phi: f64| ((1.0 - phi * phi) / count).sqrt();
        expect("lag of t", over(&lag_t, &square_t), phi_t, lag_error(phi_t));
        expect("lag of c", over(&lag_c, &square_c), phi_c, lag_error(phi_c));
        let both = phi_t * phi_c;
        let error = ((1.0 + both) / (1.0 - both) / count).sqrt();
        let found = same_day.sum / (square_t.sum * square_c.sum).sqrt();
        expect("correlation", found, correlation, error);
    }
}

/// Many paths of a few days: the law is stationary from its first day, and variances outlast a
/// change of law.
#[test]
fn anomalies_start_as_they_go_on() {
    let winter = AnomalyLaw::new([0.8, 0.5], -0.4).unwrap();
    let spring = AnomalyLaw::new([0.3, 0.6], 0.2).unwrap();
    let mut days = <[[Mean; 3]; 3]>::default();
    for block in 0..25_000 {
        let first_path = block * LANES as u32;
        let news = |day| {
            let [t, c, ..] = normals(SEED, first_path, on_day(day));
            [t, c]
        };
        let first = Anomalies::start(&winter, news(0));
        let second = first.next(&winter, news(1));
        let third = second.next(&spring, news(2));
        for (day, state) in days.iter_mut().zip([first, second, third]) {
            for (t, c) in state.t.iter().zip(&state.c) {
                for (mean, value) in day.iter_mut().zip([t * t, c * c, t * c]) {
                    mean.add(value);
                }
            }
        }
    }
    for (day, [square_t, square_c, product]) in days.iter().enumerate() {
        square_t.expect("variance of t", 1.0, 2.0_f64.sqrt());
        square_c.expect("variance of c", 1.0, 2.0_f64.sqrt());
        if day < 2 {
            let deviation = (1.0 + 0.4 * 0.4_f64).sqrt();
            product.expect("covariance", -0.4, deviation);
        }
    }
}
