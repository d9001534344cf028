//! Written by the fit (`overwinter-fit`), as `datasheets-notes/summary.csv` is. Not to be edited.

use super::accuracy::{Accuracy, RoleAccuracy};

pub(super) static ACCURACY: &[Accuracy] = &[
    Accuracy {
        cell: "alkaline-aa",
        fitted: RoleAccuracy {
            points: 49,
            durations: Some((0.058, 0.146)),
            voltages_v: Some((0.007, 0.021)),
            resistances: Some((0.136, 0.260)),
        },
        held_out: RoleAccuracy {
            points: 24,
            durations: Some((0.049, 0.157)),
            voltages_v: Some((0.009, 0.036)),
            resistances: Some((0.083, 0.119)),
        },
        other_grades: RoleAccuracy {
            points: 24,
            durations: Some((0.132, 0.416)),
            voltages_v: None,
            resistances: None,
        },
        conflicting: RoleAccuracy {
            points: 9,
            durations: Some((0.573, 0.843)),
            voltages_v: None,
            resistances: Some((0.383, 0.383)),
        },
    },
    Accuracy {
        cell: "alkaline-c",
        fitted: RoleAccuracy {
            points: 10,
            durations: None,
            voltages_v: Some((0.006, 0.016)),
            resistances: Some((0.028, 0.028)),
        },
        held_out: RoleAccuracy {
            points: 6,
            durations: Some((0.007, 0.007)),
            voltages_v: Some((0.008, 0.012)),
            resistances: None,
        },
        other_grades: RoleAccuracy {
            points: 0,
            durations: None,
            voltages_v: None,
            resistances: None,
        },
        conflicting: RoleAccuracy {
            points: 0,
            durations: None,
            voltages_v: None,
            resistances: None,
        },
    },
    Accuracy {
        cell: "alkaline-d",
        fitted: RoleAccuracy {
            points: 9,
            durations: Some((0.083, 0.113)),
            voltages_v: Some((0.005, 0.006)),
            resistances: None,
        },
        held_out: RoleAccuracy {
            points: 3,
            durations: Some((0.011, 0.011)),
            voltages_v: Some((0.018, 0.018)),
            resistances: None,
        },
        other_grades: RoleAccuracy {
            points: 0,
            durations: None,
            voltages_v: None,
            resistances: None,
        },
        conflicting: RoleAccuracy {
            points: 0,
            durations: None,
            voltages_v: None,
            resistances: None,
        },
    },
    Accuracy {
        cell: "lithium-aa",
        fitted: RoleAccuracy {
            points: 47,
            durations: Some((0.022, 0.035)),
            voltages_v: Some((0.014, 0.051)),
            resistances: Some((0.030, 0.030)),
        },
        held_out: RoleAccuracy {
            points: 24,
            durations: Some((0.012, 0.037)),
            voltages_v: Some((0.014, 0.062)),
            resistances: Some((0.066, 0.066)),
        },
        other_grades: RoleAccuracy {
            points: 0,
            durations: None,
            voltages_v: None,
            resistances: None,
        },
        conflicting: RoleAccuracy {
            points: 0,
            durations: None,
            voltages_v: None,
            resistances: None,
        },
    },
    Accuracy {
        cell: "nimh-aa",
        fitted: RoleAccuracy {
            points: 23,
            durations: Some((0.020, 0.039)),
            voltages_v: Some((0.028, 0.028)),
            resistances: Some((0.002, 0.002)),
        },
        held_out: RoleAccuracy {
            points: 12,
            durations: Some((0.019, 0.087)),
            voltages_v: Some((0.014, 0.014)),
            resistances: None,
        },
        other_grades: RoleAccuracy {
            points: 0,
            durations: None,
            voltages_v: None,
            resistances: None,
        },
        conflicting: RoleAccuracy {
            points: 0,
            durations: None,
            voltages_v: None,
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
        other_grades: RoleAccuracy {
            points: 0,
            durations: None,
            voltages_v: None,
            resistances: None,
        },
        conflicting: RoleAccuracy {
            points: 0,
            durations: None,
            voltages_v: None,
            resistances: None,
        },
    },
    Accuracy {
        cell: "lead-acid-12v-4.5ah",
        fitted: RoleAccuracy {
            points: 16,
            durations: Some((0.013, 0.023)),
            voltages_v: Some((0.020, 0.042)),
            resistances: Some((0.058, 0.058)),
        },
        held_out: RoleAccuracy {
            points: 7,
            durations: Some((0.016, 0.029)),
            voltages_v: Some((0.054, 0.054)),
            resistances: None,
        },
        other_grades: RoleAccuracy {
            points: 0,
            durations: None,
            voltages_v: None,
            resistances: None,
        },
        conflicting: RoleAccuracy {
            points: 0,
            durations: None,
            voltages_v: None,
            resistances: None,
        },
    },
    Accuracy {
        cell: "lfp-18650",
        fitted: RoleAccuracy {
            points: 34,
            durations: Some((0.006, 0.019)),
            voltages_v: Some((0.005, 0.010)),
            resistances: None,
        },
        held_out: RoleAccuracy {
            points: 13,
            durations: Some((0.037, 0.051)),
            voltages_v: Some((0.004, 0.038)),
            resistances: None,
        },
        other_grades: RoleAccuracy {
            points: 0,
            durations: None,
            voltages_v: None,
            resistances: None,
        },
        conflicting: RoleAccuracy {
            points: 0,
            durations: None,
            voltages_v: None,
            resistances: None,
        },
    },
    Accuracy {
        cell: "lithium-ion-18650",
        fitted: RoleAccuracy {
            points: 9,
            durations: Some((0.018, 0.029)),
            voltages_v: Some((0.001, 0.002)),
            resistances: Some((0.037, 0.037)),
        },
        held_out: RoleAccuracy {
            points: 4,
            durations: Some((0.015, 0.015)),
            voltages_v: Some((0.003, 0.013)),
            resistances: None,
        },
        other_grades: RoleAccuracy {
            points: 0,
            durations: None,
            voltages_v: None,
            resistances: None,
        },
        conflicting: RoleAccuracy {
            points: 0,
            durations: None,
            voltages_v: None,
            resistances: None,
        },
    },
];
