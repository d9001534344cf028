//! The one path of mean weather.

use crate::line::{Line, WeatherOrigin};

/// Whether any camera has a panel.
pub(super) fn has_panels(line: &Line) -> bool {
    line.cameras.iter().any(|camera| camera.panel.is_some())
}

/// The name of the path in JSON.
pub(super) fn path_name(origin: &WeatherOrigin) -> &'static str {
    if replayed(origin) {
        "replayed"
    } else {
        "expected"
    }
}

/// Whether a file's hours are replayed.
pub(super) fn replayed(origin: &WeatherOrigin) -> bool {
    matches!(origin, WeatherOrigin::FileHours(_))
}
