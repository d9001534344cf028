//! Written by the fit (`overwinter-fit`), as `datasheets-notes/summary.csv` is. Not to be edited.

use super::accuracy::{Accuracy, RoleAccuracy};

pub(super) static ACCURACY: &[Accuracy] = &[
    Accuracy {
        cell: "alkaline-aa",
        fitted: RoleAccuracy {
            points: 108,
            durations: Some((0.100, 0.389)),
            voltages_v: Some((0.025, 0.070)),
            resistances: Some((0.063, 0.453)),
        },
        held_out: RoleAccuracy {
            points: 49,
            durations: Some((0.029, 0.383)),
            voltages_v: Some((0.026, 0.077)),
            resistances: Some((0.078, 0.178)),
        },
    },
    Accuracy {
        cell: "alkaline-c",
        fitted: RoleAccuracy {
            points: 10,
            durations: None,
            voltages_v: Some((0.012, 0.013)),
            resistances: Some((0.007, 0.007)),
        },
        held_out: RoleAccuracy {
            points: 6,
            durations: Some((0.023, 0.023)),
            voltages_v: Some((0.008, 0.013)),
            resistances: None,
        },
    },
    Accuracy {
        cell: "alkaline-d",
        fitted: RoleAccuracy {
            points: 9,
            durations: Some((0.095, 0.110)),
            voltages_v: Some((0.015, 0.031)),
            resistances: None,
        },
        held_out: RoleAccuracy {
            points: 3,
            durations: Some((0.017, 0.017)),
            voltages_v: Some((0.021, 0.021)),
            resistances: None,
        },
    },
    Accuracy {
        cell: "lithium-aa",
        fitted: RoleAccuracy {
            points: 92,
            durations: Some((0.054, 0.103)),
            voltages_v: Some((0.020, 0.053)),
            resistances: Some((0.219, 0.297)),
        },
        held_out: RoleAccuracy {
            points: 46,
            durations: Some((0.056, 0.103)),
            voltages_v: Some((0.023, 0.050)),
            resistances: Some((0.303, 0.560)),
        },
    },
    Accuracy {
        cell: "nimh-aa",
        fitted: RoleAccuracy {
            points: 26,
            durations: Some((0.025, 0.059)),
            voltages_v: Some((0.040, 0.040)),
            resistances: Some((0.104, 0.104)),
        },
        held_out: RoleAccuracy {
            points: 13,
            durations: Some((0.020, 0.097)),
            voltages_v: Some((0.026, 0.026)),
            resistances: None,
        },
    },
    Accuracy {
        cell: "lead-acid-12v-7.2ah",
        fitted: RoleAccuracy {
            points: 19,
            durations: Some((0.011, 0.032)),
            voltages_v: None,
            resistances: Some((0.082, 0.224)),
        },
        held_out: RoleAccuracy {
            points: 9,
            durations: Some((0.017, 0.030)),
            voltages_v: None,
            resistances: Some((0.126, 0.126)),
        },
    },
    Accuracy {
        cell: "lead-acid-12v-4.5ah",
        fitted: RoleAccuracy {
            points: 16,
            durations: Some((0.014, 0.023)),
            voltages_v: Some((0.020, 0.042)),
            resistances: Some((0.057, 0.057)),
        },
        held_out: RoleAccuracy {
            points: 7,
            durations: Some((0.014, 0.029)),
            voltages_v: Some((0.054, 0.054)),
            resistances: None,
        },
    },
    Accuracy {
        cell: "lfp-18650",
        fitted: RoleAccuracy {
            points: 34,
            durations: Some((0.007, 0.019)),
            voltages_v: Some((0.005, 0.010)),
            resistances: None,
        },
        held_out: RoleAccuracy {
            points: 13,
            durations: Some((0.037, 0.051)),
            voltages_v: Some((0.004, 0.038)),
            resistances: None,
        },
    },
    Accuracy {
        cell: "lithium-ion-18650",
        fitted: RoleAccuracy {
            points: 9,
            durations: Some((0.018, 0.029)),
            voltages_v: Some((0.002, 0.002)),
            resistances: Some((0.037, 0.037)),
        },
        held_out: RoleAccuracy {
            points: 4,
            durations: Some((0.015, 0.015)),
            voltages_v: Some((0.002, 0.013)),
            resistances: None,
        },
    },
];
