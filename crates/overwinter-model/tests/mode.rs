//! What a camera is doing as its supply falls: the rule against a table of names and branches, and lanes
//! against one season alone.

use overwinter_model::lanes::Lanes;
use overwinter_model::season::{Found, Mode, Recovery};
use overwinter_model::{Mask, Number, Time, Voltage};
use proptest::prelude::*;

const SPAN_S: f64 = 3600.0;
const LANES: usize = 4;

/// The same camera told by names.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Told {
    Running,
    Restarting(f64),
    Waiting,
    Off,
}

impl Told {
    fn of(mode: &Mode) -> Self {
        let left_s = mode.restarting.as_seconds();
        match (mode.off > 0.0, mode.waiting > 0.0) {
            (true, _) => Self::Off,
            (_, true) => Self::Waiting,
            _ if left_s > 0.0 => Self::Restarting(left_s),
            _ => Self::Running,
        }
    }

    fn share_on(self) -> f64 {
        match self {
            Self::Running => 1.0,
            Self::Restarting(left_s) if left_s < SPAN_S => (SPAN_S - left_s) / SPAN_S,
            Self::Restarting(_) | Self::Waiting | Self::Off => 0.0,
        }
    }

    fn after(self, fell: bool, enough: bool, takes_s: f64, latches: bool) -> Self {
        let start_or_wait = match (enough, takes_s > 0.0) {
            (true, true) => Self::Restarting(takes_s),
            (true, false) => Self::Running,
            (false, _) => Self::Waiting,
        };
        let falls = if latches { Self::Off } else { start_or_wait };
        match self {
            Self::Off => Self::Off,
            Self::Waiting => start_or_wait,
            Self::Running if fell => falls,
            Self::Restarting(left_s) if left_s < SPAN_S && fell => falls,
            Self::Restarting(left_s) if left_s > SPAN_S => Self::Restarting(left_s - SPAN_S),
            Self::Running | Self::Restarting(_) => Self::Running,
        }
    }
}

/// What one camera meets in a span: whether a load fails, and its supply at rest.
type Met = [(bool, f64); LANES];

fn recovery(takes_s: f64, latches: [bool; LANES]) -> Recovery<Lanes<LANES>> {
    Recovery {
        from: Voltage::from_volts(8.0).everywhere(),
        takes: Time::from_seconds(takes_s),
        latches: Lanes(latches.map(f64::from)),
    }
}

fn found(met: &Met) -> Found<Lanes<LANES>> {
    Found {
        fell: Lanes(met.map(|(fell, _)| f64::from(fell))).at_least(Lanes::all(1.0)),
        at_rest: Voltage::from_si(Lanes(met.map(|(_, volts)| volts))),
    }
}

fn lane(mode: &Mode<Lanes<LANES>>, lane: usize) -> Mode {
    Mode {
        restarting: mode.restarting.lanes()[lane],
        waiting: mode.waiting.0[lane],
        off: mode.off.0[lane],
        falls: mode.falls.0[lane],
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn a_camera_does_what_its_names_say(
        spans in prop::collection::vec(prop::array::uniform4((any::<bool>(), 7.0..9.0_f64)), 1..60),
        takes_s in prop_oneof![Just(0.0), 1.0..900.0_f64, 3000.0..20_000.0_f64],
        latches in prop::array::uniform4(prop::bool::weighted(0.2)),
    ) {
        let span = Time::from_seconds(SPAN_S);
        let recovery = recovery(takes_s, latches);
        let mut side_by_side = Mode::<Lanes<LANES>>::running();
        let mut alone = [Mode::running(); LANES];
        let mut told = [Told::Running; LANES];
        let mut falls = [0.0; LANES];
        for met in &spans {
            let shares = side_by_side.share_on(span);
            side_by_side = side_by_side.after(&found(met), &recovery, span);
            for at in 0..LANES {
                let (fell, volts) = met[at];
                let share = told[at].share_on();
                prop_assert!((shares.0[at] - share).abs() < 1e-12);
                falls[at] += f64::from(fell && share > 0.0);
                told[at] = told[at].after(fell, volts >= 8.0, takes_s, latches[at]);
                let recovery = Recovery {
                    from: recovery.from.lanes()[at],
                    takes: recovery.takes,
                    latches: f64::from(latches[at]),
                };
                let found = Found { fell, at_rest: Voltage::from_volts(volts) };
                alone[at] = alone[at].after(&found, &recovery, span);
                // Bit for bit: no table stands in this rule.
                prop_assert_eq!(lane(&side_by_side, at), alone[at]);
                prop_assert_eq!(Told::of(&alone[at]), told[at]);
                prop_assert_eq!(alone[at].falls.to_bits(), falls[at].to_bits());
            }
        }
    }

    /// A start is over when it is over, however finely time is cut.
    #[test]
    fn a_start_takes_its_time(takes_s in 1.0..20_000.0_f64, pieces in 1..50_u32) {
        let recovery = recovery(takes_s, [false; LANES]);
        let fell = found(&[(true, 8.5); LANES]);
        let fine = found(&[(false, 8.5); LANES]);
        let span = Time::from_seconds(SPAN_S);
        let piece = span / f64::from(pieces);
        let mut mode = Mode::<Lanes<LANES>>::running().after(&fell, &recovery, span);
        let whole = mode.share_on(span).0[0];
        let mut in_pieces = 0.0;
        for _ in 0..pieces {
            in_pieces += mode.share_on(piece).0[0] / f64::from(pieces);
            mode = mode.after(&fine, &recovery, piece);
        }
        prop_assert!((whole - in_pieces).abs() < 1e-12, "{} {}", whole, in_pieces);
    }
}

/// A voltage that is not a number is no reason to start.
#[test]
fn nothing_starts_on_a_voltage_that_is_not_known() {
    let recovery = recovery(60.0, [false; LANES]);
    let span = Time::from_hours(1.0);
    let mode = Mode::running().after(&found(&[(true, f64::NAN); LANES]), &recovery, span);
    assert!(!mode.waiting.below(Lanes::all(1.0)).any());
}
