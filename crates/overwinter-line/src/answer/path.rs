//! The one path of mean weather.

use crate::line::{Line, WeatherOrigin};

/// Whether any camera has a panel.
pub fn has_panels(line: &Line) -> bool {
    line.cameras.iter().any(|camera| camera.panel.is_some())
}

/// The name of the path in JSON.
pub fn path_name(origin: &WeatherOrigin) -> &'static str {
    match origin {
        WeatherOrigin::FileHours(_) => "replayed",
        _ => "expected",
    }
}
