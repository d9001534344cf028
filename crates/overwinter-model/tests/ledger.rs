//! The books of a season: each entry is at least nothing, and all of them close.

mod cases;

use cases::driver::follow;
use cases::sunny::{Sunny, sunny};
use cases::{air_chances, camera_chances};
use overwinter_model::cell::{Cell, Charging};
use overwinter_model::draw::{ByUse, Use};
use overwinter_model::harvest::FromPanel;
use overwinter_model::lanes::Lanes;
use overwinter_model::pack::Pack;
use overwinter_model::paths::{Drawn, Luck, Prepared, SampledAir};
use overwinter_model::random::Key;
use overwinter_model::season::{Ledger, Scenario, run};
use overwinter_model::{Energy, Temperature, Time};
use proptest::prelude::*;

/// A camera, with or without a panel, on cells that have lain for some time.
#[derive(Clone, Debug)]
struct Kept {
    sunny: Sunny,
    has_panel: bool,
    stored_months: f64,
    /// A cell of one's own: charge kept of a charge, and volts per kelvin.
    odd: Option<(f64, f64)>,
}

fn kept() -> impl Strategy<Value = Kept> {
    let months = prop_oneof![Just(0.0), 0.0..60.0_f64];
    // Some do next to nothing, so that no other loss hides an entry that is too small.
    let load = prop_oneof![2 => Just(1.0), 1 => 0.001..1.0_f64];
    let odd = (
        prop_oneof![Just(1.0), 0.5..1.0_f64],
        prop_oneof![Just(0.0), -0.001..0.001_f64],
    );
    let odd = prop_oneof![3 => Just(None), 1 => odd.prop_map(Some)];
    (sunny(), any::<bool>(), months, load, odd).prop_map(
        |(mut sunny, has_panel, stored_months, load, odd)| {
            sunny.case.standby_mw *= load;
            sunny.case.triggers_per_hour *= load;
            Kept {
                sunny,
                has_panel,
                stored_months,
                odd,
            }
        },
    )
}

impl Kept {
    fn scenario(&self) -> Scenario {
        let mut scenario = self.sunny.case.scenario(1.0);
        if let Some((efficiency, open_circuit_per_k)) = self.odd {
            let cell = *scenario.pack.cell();
            let cell = Cell {
                open_circuit_per_k,
                charging: cell.charging.map(|charging| Charging {
                    efficiency,
                    ..charging
                }),
                ..cell
            };
            let (series, parallel) = (scenario.pack.series(), scenario.pack.parallel());
            scenario.pack = Pack::new(&cell, series, parallel).unwrap();
        }
        let shelf = Time::from_days(self.stored_months * 365.25 / 12.0);
        let room = scenario.pack.at(Temperature::REFERENCE);
        scenario.start = room.stored(&scenario.start, shelf);
        scenario.feeds = self.has_panel.then(|| self.sunny.feeds());
        scenario
    }

    fn ledger(&self) -> Ledger {
        run(&self.scenario(), self.sunny.hours(), 1, |_| {}).ledger
    }

    /// Each entry of four sampled seasons over all that came in, and whether the camera died in it.
    fn paths(&self) -> [(Vec<(&'static str, f64)>, bool); 4] {
        let scenario = self.scenario();
        let prepared = Prepared::new(&scenario);
        let drawn = Drawn {
            key: Key(5),
            paths: [0, 1, 2, 3],
        };
        let (air_chances, chances) = (air_chances(), camera_chances());
        let mut air = SampledAir::new(drawn, &air_chances);
        let days: Vec<_> = (0..183).map(|_| air.next_day(0)).collect();
        let luck = Luck {
            // A cell that does better in the cold than the model knows gives more than it is booked with.
            beyond_reach: Lanes::all(0.0),
            ..chances.luck(&drawn, &scenario.pack)
        };
        let mut traffic = chances.traffic(&drawn);
        let blocks = self.sunny.blocks(&scenario, self.has_panel);
        let followed = follow::<_, 4>(
            &prepared.as_said(),
            &blocks,
            8,
            &days,
            &luck,
            &mut traffic,
            &mut |_, _| {},
        );
        std::array::from_fn(|lane| {
            let of = |energy: Energy<Lanes<4>>| energy.lanes()[lane].as_joules();
            let panel = &followed.panel;
            let airtime = luck.airtime.0[lane];
            let used = followed.counts.used(lane, &scenario.draw, airtime);
            let (put_in, stored) = (of(followed.put_in), of(panel.stored()));
            let (lost, left) = (of(followed.self_discharge), of(followed.left));
            let mut entries = vec![
                ("put in", put_in),
                ("self-discharge", lost),
                ("left", left),
                ("offered", of(panel.offered)),
                ("kept out", of(panel.kept_out)),
                ("spilled", of(panel.spilled)),
                ("charging loss", of(panel.charging_loss)),
                ("stored", stored),
                (
                    LOST,
                    put_in + stored - used.total().as_joules() - lost - left,
                ),
            ];
            entries.extend(Use::ALL.map(|what| ("a use", used.get(what).as_joules())));
            let came = put_in + of(panel.offered);
            for (_, entry) in &mut entries {
                *entry /= came;
            }
            let died = followed.causes[lane].is_some();
            (entries, died)
        })
    }
}

/// What the program prints as lost in the cells.
const LOST: &str = "lost in cells";

/// Each entry over all that came in.
fn entries(ledger: &Ledger) -> Vec<(&'static str, f64)> {
    let panel = &ledger.panel;
    let mut entries = vec![
        ("put in", ledger.put_in),
        ("resistive", ledger.resistive),
        (HELD_BACK, ledger.held_back),
        (LOST, ledger.resistive + ledger.held_back),
        ("self-discharge", ledger.self_discharge),
        ("left", ledger.left),
        ("offered", panel.offered),
        ("kept out", panel.kept_out),
        ("spilled", panel.spilled),
        ("charging loss", panel.charging_loss),
        ("stored", panel.stored()),
    ];
    entries.extend(Use::ALL.map(|what| ("a use", ledger.used.get(what))));
    let came = ledger.put_in + panel.offered;
    let entries = entries.into_iter();
    entries
        .map(|(name, energy)| (name, energy / came))
        .collect()
}

const HELD_BACK: &str = "held back";

/// What rounding may take from an entry, over all that came in.
const ROUNDING: f64 = 1e-9;

/// The step in which a camera dies is drawn as its start asks for, without its end, and so released
/// at too high a voltage: by half of what the voltage falls over a 250th of the capacity at most. Of
/// 40,000 cases six had a negative entry, the worst of -2.7e-5.
const DYING: f64 = 5e-5;

/// A step charges with the current of its start. A cell that loses next to nothing in charging then
/// keeps what its voltage climbs meanwhile for nothing. No cell of the catalogue does; of 4000 cases a
/// quarter of which had such a cell 25 had a negative entry, the worst of -8e-5.
const LOSSLESS: f64 = 2e-4;

/// What a path loses in its cells is the rest of its books. A block discharges itself at its voltage
/// under load: of 20,000 paths none had more than 2e-5 too little left for the cells.
const BLOCKS: f64 = 1e-4;

/// The last block of a path that ends is taken as a straight line to its end, and a path that is out
/// of luck has few blocks in its life.
const DYING_PATH: f64 = 0.015;

fn each_is_at_least(
    entries: &[(&'static str, f64)],
    room: impl Fn(&str) -> f64,
) -> Result<(), TestCaseError> {
    for (name, share) in entries {
        prop_assert!(*share >= -room(name), "{name} {share:e}: {entries:?}");
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn no_entry_of_a_mean_season_is_negative(kept in kept()) {
        let ledger = kept.ledger();
        each_is_at_least(&entries(&ledger), |name| match name {
            HELD_BACK => DYING,
            "charging loss" if kept.odd.is_some() => LOSSLESS,
            _ => ROUNDING,
        })?;
        let imbalance = ledger.imbalance();
        prop_assert!(imbalance.abs() < 1e-5, "{imbalance} {ledger:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn no_entry_of_a_sampled_season_is_negative(kept in kept()) {
        for (entries, died) in kept.paths() {
            each_is_at_least(&entries, |name| match name {
                LOST if died => DYING_PATH,
                LOST => BLOCKS,
                _ => ROUNDING,
            })?;
        }
    }
}

/// 60 J were there and 40 J offered, of which 5 J were kept out, 3 J spilled and 2 J lost: so 90 J came. Of
/// them 20 J + 10 J + 15 J went, and 40 J are left.
#[test]
fn what_is_missing_is_a_share_of_all_that_there_was() {
    let joules = Energy::from_joules;
    let mut used = ByUse::default();
    used.add(Use::Standby, joules(15.0));
    used.add(Use::Flash, joules(5.0));
    let ledger = Ledger {
        put_in: joules(60.0),
        used,
        resistive: joules(10.0),
        held_back: joules(9.0),
        self_discharge: joules(6.0),
        left: joules(40.0),
        panel: FromPanel {
            offered: joules(40.0),
            kept_out: joules(5.0),
            spilled: joules(3.0),
            charging_loss: joules(2.0),
        },
    };
    let imbalance = ledger.imbalance();
    assert!((imbalance - 0.05).abs() < 1e-12, "{imbalance}");
}
