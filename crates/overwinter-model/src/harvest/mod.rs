//! Light on a panel, and what it brings: from the sun's place to the energy that a store takes in.
//!
//! In the order in which the energy flows, one effect a file: the sun and the air before it
//! ([`Sun`]), a clear sky ([`clear_sky`]) or one of known clearness ([`SkyDay`]), the split of
//! light into beam and diffuse ([`split`]), what of it falls on a tilted plane ([`Plane`]), what
//! stands in its way ([`Horizon`], [`Canopy`]), the panel ([`Panel`]), all of these in one
//! place ([`Mount`]), and the store ([`Store`]).
//!
//! Light is taken in the middle of each hour and counts for all of it.

mod air;
mod books;
mod canopy;
pub mod clear_sky;
mod clearness;
mod ground;
mod horizon;
mod light;
mod mount;
mod panel;
mod perez;
mod plane;
mod sky_day;
pub mod split;
mod store;
#[cfg(feature = "serde")]
mod stored;
mod sun;
mod surroundings;

pub use books::FromPanel;
pub use canopy::{Canopy, CanopyError, Leaves};
pub use clearness::clearness_points;
pub use ground::Ground;
pub use horizon::{Horizon, HorizonError};
pub use light::Light;
pub use mount::{CLEARNESS_NODES, CLEARNESS_STEP, Mount, PanelDay};
pub use panel::{Controller, Panel};
pub use plane::{Plane, PlaneError, PlaneLight, SkyModel};
pub(crate) use sky_day::HourlySky;
pub use sky_day::SkyDay;
pub use store::{ChargeLimit, Store, StoreHour, StoreState};
pub(crate) use store::{ChargeWindow, followed, followed_share, nearer};
pub use sun::{Sun, outside_atmosphere};
pub use surroundings::{DaySurroundings, Surroundings};
