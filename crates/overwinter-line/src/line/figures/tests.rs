use overwinter_model::Voltage;
use overwinter_model::draw::{Draw, UploadMode};
use proptest::prelude::*;

use super::*;
use crate::line::draws::draw;
use crate::line::{Signal, Supply};

const SUPPLY: Supply = Supply {
    nominal: Voltage::from_volts(12.0),
    cut_off: Voltage::from_volts(7.2),
    flash: Voltage::from_volts(8.0),
    upload: Voltage::from_volts(7.6),
    highest: Voltage::from_volts(15.0),
};

/// Each kind has a figure or the table says that it does not.
fn usuals() -> impl Iterator<Item = (Kind, Figure, &'static Usual)> {
    Kind::ALL
        .into_iter()
        .flat_map(|kind| Figure::of(kind).map(move |(figure, usual)| (kind, figure, usual)))
}

#[test]
fn keys_stand_in_the_order_of_the_figures() {
    let keys = DrawKeys::KEYS.iter().copied();
    let of_figures: Vec<&str> = keys
        .filter(|key| Figure::ALL.iter().any(|figure| figure.key() == *key))
        .collect();
    assert_eq!(of_figures, Figure::ALL.map(Figure::key));
    let places = Figures::new(|figure| figure.key());
    for figure in Figure::ALL {
        assert_eq!(places[figure], figure.key());
    }
}

#[test]
fn what_is_usual_lies_in_its_range_and_may_be_given() {
    for (kind, figure, usual) in usuals() {
        let (low, high) = usual.range;
        let what = format!("{} of {}", figure.key(), kind.name());
        assert!(low <= usual.value && usual.value <= high, "{what}");
        assert!(
            ACCEPTED.contains(&low) && ACCEPTED.contains(&high),
            "{what}"
        );
    }
}

#[test]
fn only_a_modems_figures_are_missing_and_only_without_one() {
    for figure in Figure::ALL {
        for kind in Kind::ALL {
            let has = !figure.is_of_modem() || kind.has_modem();
            assert_eq!(figure.usual(kind).is_some(), has, "{}", figure.key());
        }
    }
    assert_eq!(Figure::in_answers().count(), Figure::ALL.len());
}

#[test]
fn a_modem_that_is_off_adds_to_the_power_asleep() {
    let standby = |kind| Figures::usual(kind)[Figure::Standby].known.value;
    for kind in Kind::ALL {
        let more = standby(kind) - standby(Kind::Stills);
        let expected = if kind.has_modem() { 0.04 } else { 0.0 };
        assert!((more - expected).abs() < 1e-12, "{}", kind.name());
    }
}

#[test]
fn a_key_ends_in_its_unit() {
    for figure in Figure::ALL {
        let unit = figure.unit().sign().to_lowercase().replace('/', "_per_");
        assert!(
            figure.key().ends_with(&format!("_{unit}")),
            "{}",
            figure.key()
        );
    }
}

#[test]
fn each_source_says_how_the_figure_is_known() {
    let known = ["derived", "seen", "from memory", "Guidelines"];
    for (_, figure, usual) in usuals() {
        let says = known.iter().any(|how| usual.source.contains(how));
        assert!(says, "{}: {}", figure.key(), usual.source);
    }
}

/// Settings of a camera with a modem and a light.
fn any_settings() -> impl Strategy<Value = Settings> {
    let upload = prop_oneof![
        Just(None),
        Just(Some(UploadMode::Each)),
        Just(Some(UploadMode::Daily { hour: 13 })),
    ];
    let reports = prop_oneof![Just(0.0), Just(2.0)];
    let card = prop_oneof![Just(None), Just(Some(32.0))];
    (
        0..4_u8,
        prop_oneof![Just(0.0), Just(10.0)],
        upload,
        reports,
        card,
    )
        .prop_map(
            |(shots, video_s, upload, check_ins_per_day, card_gb)| Settings {
                shots,
                video_s,
                quiet_s: 0.0,
                flash_pct: 50.0,
                flash_below_sun_deg: 0.0,
                scheduled_per_day: 1.0,
                upload,
                upload_pictures: 1.0,
                upload_mb: 0.1,
                signal: Signal::Fair,
                check_ins_per_day,
                card_gb,
            },
        )
}

/// The draw with a figure a tenth above what is usual.
fn with_more_of(figure: Option<Figure>, settings: &Settings) -> Draw {
    let mut values = Figures::usual(Kind::StillsCat1).values();
    if let Some(figure) = figure {
        values[figure] *= 1.1;
    }
    draw(&values, settings, &SUPPLY)
}

proptest! {
    #[test]
    fn a_figure_changes_the_draw_just_where_it_is_used(settings in any_settings()) {
        let usual = with_more_of(None, &settings);
        for figure in Figure::ALL {
            let changed = with_more_of(Some(figure), &settings) != usual;
            prop_assert_eq!(changed, figure.is_used_with(&settings), "{}", figure.key());
        }
    }
}
