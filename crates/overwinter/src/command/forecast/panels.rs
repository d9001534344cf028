//! Cameras with solar panels: how each stands.

use overwinter_line::answer::forecast::{CameraDocument, Forecast, PanelDocument};
use overwinter_line::words::plain;

use crate::command::paragraph::wrap;

/// Each camera's panel, with a caution where its store is weak in frost; nothing where there is none.
pub(super) fn text(forecast: &Forecast) -> String {
    let told = super::cameras(forecast).filter_map(|(camera, details)| {
        let caution = details.weak_store.as_ref();
        let caution = caution.map(|caution| format!("Caution, {}: {caution}.", camera.name));
        let told = told(camera, camera.panel.as_ref()?);
        let lines = [Some(told), caution].into_iter().flatten();
        Some(lines.map(|text| wrap(&text) + "\n").collect::<String>())
    });
    told.collect()
}

/// `Panel of saddle: 5 W tilted 65°, facing 180° (usual), charges its own store: 25 Wh of lfp-18650.`
fn told(camera: &CameraDocument, panel: &PanelDocument) -> String {
    let usual = |key| {
        if panel.usual_keys.contains(&key) {
            " (usual)"
        } else {
            ""
        }
    };
    let charged = match (&panel.store_cell, panel.store_wh) {
        (Some(cell), Some(wh)) => format!(
            "its own store: {} Wh{} of {cell}{}",
            plain(wh.0),
            usual("store_wh"),
            usual("store_cell")
        ),
        _ => format!("its pack, {}", camera.set.cell),
    };
    format!(
        "Panel of {}: {} W tilted {:.0}°{}, facing {:.0}°{}, charges {charged}.",
        camera.name,
        plain(panel.panel_w.0),
        panel.tilt_deg.0,
        usual("tilt_deg"),
        panel.azimuth_deg.0,
        usual("azimuth_deg"),
    )
}
