//! A camera's panel and what it brought along the path.

use serde::Serialize;

use crate::answer::document::Rounded;
use crate::line::{Camera, Charges};
use crate::run::CameraRun;

/// A panel, how it stands, and what it brought.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PanelDocument {
    /// Rated power.
    pub panel_w: Rounded<3>,
    /// From the horizontal.
    pub tilt_deg: Rounded<1>,
    /// From north through east.
    pub azimuth_deg: Rounded<1>,
    /// `store` or `pack`.
    pub charges: &'static str,
    /// The cells of its own store, if it charges one.
    pub store_cell: Option<String>,
    /// What that holds when full.
    pub store_wh: Option<Rounded<3>>,
    /// Keys that have an effect and are not in the file.
    pub usual_keys: Vec<&'static str>,
    /// All that it had to give, behind its controller.
    pub offered_wh: Rounded<3>,
    /// Not taken: too cold, too warm or too fast.
    pub kept_out_wh: Rounded<3>,
    /// Not taken: no more room.
    pub spilled_wh: Rounded<3>,
    /// Lost in charging.
    pub charging_loss_wh: Rounded<3>,
    /// What went in to stay.
    pub stored_wh: Rounded<3>,
}

impl PanelDocument {
    pub(super) fn of(camera: &Camera, run: &CameraRun) -> Option<Self> {
        let panel = camera.panel.as_ref()?;
        let charges = panel.charges(&run.pack);
        let store = (charges == Charges::Store).then_some(&panel.store);
        let came = &run.outcome.ledger.panel;
        Some(Self {
            panel_w: Rounded(panel.panel.rated.as_watts()),
            tilt_deg: Rounded(panel.plane.tilt_deg()),
            azimuth_deg: Rounded(panel.plane.azimuth_deg()),
            charges: match charges {
                Charges::Store => "store",
                Charges::Pack => "pack",
            },
            store_cell: store.map(|store| store.cell.name.clone()),
            store_wh: store.map(|store| Rounded(store.capacity.as_watt_hours())),
            usual_keys: panel.usual.clone(),
            offered_wh: Rounded(came.offered.as_watt_hours()),
            kept_out_wh: Rounded(came.kept_out.as_watt_hours()),
            spilled_wh: Rounded(came.spilled.as_watt_hours()),
            charging_loss_wh: Rounded(came.charging_loss.as_watt_hours()),
            stored_wh: Rounded(came.stored().as_watt_hours()),
        })
    }
}
