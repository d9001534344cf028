//! Written by the fit (`overwinter-fit`), as `datasheets-notes/summary.csv` is. Not to be edited.

use super::accuracy::{Accuracy, RoleAccuracy};

pub(super) static ACCURACY: &[Accuracy] = &[
    Accuracy {
        cell: "alkaline-aa",
        fitted: RoleAccuracy {
            points: 70,
            durations: Some((0.092, 0.451)),
            voltages_v: Some((0.006, 0.023)),
        },
        held_out: RoleAccuracy {
            points: 34,
            durations: Some((0.089, 0.440)),
            voltages_v: Some((0.009, 0.034)),
        },
    },
    Accuracy {
        cell: "alkaline-c",
        fitted: RoleAccuracy {
            points: 10,
            durations: None,
            voltages_v: Some((0.014, 0.023)),
        },
        held_out: RoleAccuracy {
            points: 6,
            durations: Some((0.039, 0.039)),
            voltages_v: Some((0.025, 0.030)),
        },
    },
    Accuracy {
        cell: "alkaline-d",
        fitted: RoleAccuracy {
            points: 9,
            durations: Some((0.073, 0.113)),
            voltages_v: Some((0.003, 0.010)),
        },
        held_out: RoleAccuracy {
            points: 3,
            durations: Some((0.028, 0.028)),
            voltages_v: Some((0.012, 0.012)),
        },
    },
    Accuracy {
        cell: "lithium-aa",
        fitted: RoleAccuracy {
            points: 47,
            durations: Some((0.021, 0.035)),
            voltages_v: Some((0.015, 0.050)),
        },
        held_out: RoleAccuracy {
            points: 24,
            durations: Some((0.012, 0.037)),
            voltages_v: Some((0.015, 0.061)),
        },
    },
    Accuracy {
        cell: "nimh-aa",
        fitted: RoleAccuracy {
            points: 23,
            durations: Some((0.020, 0.039)),
            voltages_v: Some((0.028, 0.028)),
        },
        held_out: RoleAccuracy {
            points: 12,
            durations: Some((0.019, 0.087)),
            voltages_v: Some((0.014, 0.014)),
        },
    },
    Accuracy {
        cell: "lead-acid-12v-7.2ah",
        fitted: RoleAccuracy {
            points: 19,
            durations: Some((0.011, 0.032)),
            voltages_v: None,
        },
        held_out: RoleAccuracy {
            points: 9,
            durations: Some((0.018, 0.030)),
            voltages_v: None,
        },
    },
    Accuracy {
        cell: "lead-acid-12v-4.5ah",
        fitted: RoleAccuracy {
            points: 16,
            durations: Some((0.014, 0.023)),
            voltages_v: Some((0.021, 0.042)),
        },
        held_out: RoleAccuracy {
            points: 7,
            durations: Some((0.014, 0.029)),
            voltages_v: Some((0.055, 0.055)),
        },
    },
    Accuracy {
        cell: "lfp-18650",
        fitted: RoleAccuracy {
            points: 34,
            durations: Some((0.006, 0.019)),
            voltages_v: Some((0.005, 0.010)),
        },
        held_out: RoleAccuracy {
            points: 13,
            durations: Some((0.037, 0.051)),
            voltages_v: Some((0.004, 0.038)),
        },
    },
    Accuracy {
        cell: "lithium-ion-18650",
        fitted: RoleAccuracy {
            points: 9,
            durations: Some((0.018, 0.029)),
            voltages_v: Some((0.001, 0.002)),
        },
        held_out: RoleAccuracy {
            points: 4,
            durations: Some((0.015, 0.015)),
            voltages_v: Some((0.003, 0.013)),
        },
    },
];
