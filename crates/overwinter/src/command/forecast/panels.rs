//! Cameras with solar panels: how each stands, and what it brought.

use overwinter_line::line::{Camera, Charges, Line, PanelChoice};
use overwinter_line::run::CameraRun;
use overwinter_line::weak_store;
use overwinter_line::words::plain;
use serde_json::{Value, json};

use crate::command::{assumptions, rounded};

/// Each camera's panel, with a caution where its store is weak in frost; nothing where there is none.
pub(super) fn text(line: &Line) -> String {
    let cameras = line.cameras.iter();
    let told = cameras.filter_map(|camera| {
        let panel = camera.panel.as_ref()?;
        let caution = weak_store::caution(line, camera)
            .map(|caution| format!("Caution, {}: {caution}.", camera.name));
        let told = [Some(told(camera, panel)), caution].into_iter().flatten();
        Some(
            told.map(|text| assumptions::wrap(&text) + "\n")
                .collect::<String>(),
        )
    });
    told.collect()
}

/// `Panel of saddle: 5 W tilted 65°, facing 180° (usual), charges its own store: 25 Wh of lfp-18650.`
fn told(camera: &Camera, panel: &PanelChoice) -> String {
    let usual = |key| {
        if panel.usual.contains(&key) {
            " (usual)"
        } else {
            ""
        }
    };
    let charged = match panel.charges(&camera.pack) {
        Charges::Pack => format!("its pack, {}", camera.pack.cell.name),
        Charges::Store => format!(
            "its own store: {} Wh{} of {}{}",
            plain(panel.store.capacity.as_watt_hours()),
            usual("store_wh"),
            panel.store.cell.name,
            usual("store_cell")
        ),
    };
    format!(
        "Panel of {}: {} W tilted {:.0}°{}, facing {:.0}°{}, charges {charged}.",
        camera.name,
        plain(panel.panel.rated.as_watts()),
        panel.plane.tilt_deg(),
        usual("tilt_deg"),
        panel.plane.azimuth_deg(),
        usual("azimuth_deg"),
    )
}

/// A camera's panel and what it brought along the path; null without one.
pub(super) fn json(camera: &Camera, run: &CameraRun) -> Value {
    let Some(panel) = &camera.panel else {
        return Value::Null;
    };
    let charges = panel.charges(&run.pack);
    let store = (charges == Charges::Store).then_some(&panel.store);
    let came = &run.outcome.ledger.panel;
    json!({
        "panel_w": rounded(panel.panel.rated.as_watts(), 3),
        "tilt_deg": rounded(panel.plane.tilt_deg(), 1),
        "azimuth_deg": rounded(panel.plane.azimuth_deg(), 1),
        "charges": match charges { Charges::Store => "store", Charges::Pack => "pack" },
        "store_cell": store.map(|store| store.cell.name.as_str()),
        "store_wh": store.map(|store| rounded(store.capacity.as_watt_hours(), 3)),
        "usual_keys": panel.usual,
        "offered_wh": rounded(came.offered.as_watt_hours(), 3),
        "kept_out_wh": rounded(came.kept_out.as_watt_hours(), 3),
        "spilled_wh": rounded(came.spilled.as_watt_hours(), 3),
        "charging_loss_wh": rounded(came.charging_loss.as_watt_hours(), 3),
        "stored_wh": rounded(came.stored().as_watt_hours(), 3),
    })
}
