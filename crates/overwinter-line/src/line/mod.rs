//! A line of cameras: read from its file, checked, and ready to run.

#[macro_use]
mod section;

mod activity;
mod assemble;
mod camera;
mod cell_files;
mod changed;
mod climate;
mod draws;
mod figures;
mod file;
mod key;
mod kinds;
mod known;
mod misplaced;
mod modem;
mod normals;
mod panel;
mod parse;
mod season;
mod site;
mod unmeasured;
mod value;
mod vary;
mod voltage;

use std::path::{Path, PathBuf};

use overwinter_model::draw::{Draw, UploadMode};
use overwinter_model::pack::{Pack, PackError, PackState};
use overwinter_model::season::Scenario;
use overwinter_model::{Activity, Place, Temperature, Time, Voltage};
use serde::Serialize;

pub use climate::{Climate, Station, WeatherOrigin};
pub use figures::{Figure, Figures, Unit, Usual};
pub use file::WeatherUse;
pub use key::{Key, Section};
pub use kinds::{Kind, Signal};
pub use known::Known;
pub use panel::{Charges, PanelChoice, StoreChoice};
pub use season::Season;
pub use unmeasured::{Deviates, Quantity};
pub use value::{KeyType, Value};
pub use vary::{Change, LineFile};
pub use voltage::{Misfit, misfit};

use crate::cells::{NamedCell, SharedCell};
use crate::host::Files;
use crate::problem::Failure;

/// A line file larger than this is not one.
const LARGEST_FILE_BYTES: u64 = 4_000_000;

/// The most cameras of one line.
pub const MOST_CAMERAS: usize = 1000;

/// The longest season, days.
pub const LONGEST_SEASON_DAYS: i32 = 1200;

/// A line that may be run: every value is in its range.
#[derive(Clone, Debug)]
pub struct Line {
    /// The file.
    pub path: PathBuf,
    /// What the site is called.
    pub site: String,
    /// Where it is.
    pub place: Place,
    /// Metres above the sea.
    pub elevation_m: f64,
    /// Whether the file gives that height.
    pub elevation_origin: Origin,
    /// Share of each month with snow on the ground, January first, 0 to 1.
    pub snow_by_month: [f64; 12],
    /// What the air does there.
    pub climate: Climate,
    /// From when to when.
    pub season: Season,
    /// The cameras in the file's order.
    pub cameras: Vec<Camera>,
    /// What cells cost.
    pub prices: Prices,
}

/// Prices of cells, panels and stores.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Prices {
    /// What to print behind a number.
    pub currency: String,
    /// One cell's price by its name.
    pub per_cell: Vec<(String, f64)>,
    /// What going round the line once costs, whatever is changed on the way.
    pub per_visit: Option<f64>,
    /// A panel's price by the watt.
    pub per_panel_watt: Option<f64>,
    /// A panel's own store's price by the watt-hour.
    pub per_store_wh: Option<f64>,
}

impl Prices {
    /// What `count` cells cost, if their price is known.
    #[must_use]
    pub fn of(&self, cell: &str, count: u32) -> Option<f64> {
        let price = self.per_cell.iter().find(|(name, _)| name == cell);
        price.map(|(_, price)| price * f64::from(count))
    }
}

/// Whether a value stands in the file or is what cameras of that kind usually have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// In the file.
    Given,
    /// A default.
    Usual,
}

/// What is taken for a figure of the draw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Assumed {
    /// In the figure's unit.
    pub known: Known,
    /// Where it comes from.
    pub origin: Origin,
}

/// The camera's battery input.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Supply {
    /// Nominal voltage.
    pub nominal: Voltage,
    /// Lowest at which the camera works.
    pub cut_off: Voltage,
    /// Lowest at which it lights the flash.
    pub flash: Voltage,
    /// Lowest at which its modem works.
    pub upload: Voltage,
    /// Highest that it stands.
    pub highest: Voltage,
}

/// How well the voltages are known at which a camera stops doing something, volts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Lowest at which it works.
    pub cut_off: Known,
    /// Lowest at which it lights the flash.
    pub flash: Known,
    /// Lowest at which its modem works.
    pub upload: Known,
}

/// What is set in a camera's menu.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settings {
    /// Pictures per trigger.
    pub shots: u8,
    /// Length of a video per trigger, seconds.
    pub video_s: f64,
    /// Time after a trigger without another, seconds.
    pub quiet_s: f64,
    /// Power of the light, percent.
    pub flash_pct: f64,
    /// The light is on with the sun below this altitude.
    pub flash_below_sun_deg: f64,
    /// Pictures a day by the clock.
    pub scheduled_per_day: f64,
    /// When pictures are sent.
    pub upload: Option<UploadMode>,
    /// Pictures sent per trigger.
    pub upload_pictures: f64,
    /// Size of a sent picture, megabytes.
    pub upload_mb: f64,
    /// Strength of the signal.
    pub signal: Signal,
    /// Reports a day.
    pub check_ins_per_day: f64,
    /// Room on the memory card, gigabytes of a thousand million bytes; `None` is not counted.
    pub card_gb: Option<f64>,
}

/// The cells of a camera.
#[derive(Clone, Debug)]
pub struct PackChoice {
    /// Which.
    pub cell: SharedCell,
    /// In series.
    pub series: u8,
    /// In parallel.
    pub parallel: u8,
    /// Months on the shelf beforehand, at 20 °C.
    pub stored_months: f64,
    /// Which purchase they are of, where one kind was bought more than once: cells of one purchase are of one
    /// make.
    pub purchase: Option<String>,
}

impl PackChoice {
    /// How many cells or batteries go in.
    #[must_use]
    pub fn count(&self) -> u32 {
        u32::from(self.series) * u32::from(self.parallel)
    }

    /// Cells in series that an input usually takes: as many as come nearest to its nominal
    /// voltage. Whatever goes into a holder for primary cells counts as 1.5 V, nickel-metal
    /// hydride too.
    #[must_use]
    pub fn usual_series(cell: &NamedCell, supply: &Supply) -> u8 {
        let nominal = if goes_into_holder(cell) {
            Voltage::from_volts(1.5)
        } else {
            cell.cell.open_circuit.at(0.5) * f64::from(cell.cell.in_series)
        };
        // Between 1 and 24 by the clamp.
        (supply.nominal / nominal).round().clamp(1.0, 24.0) as u8
    }

    /// The same camera with other cells: as many, if both go into its holder.
    #[must_use]
    pub fn with_cell(&self, cell: &SharedCell, supply: &Supply) -> Self {
        let series = if goes_into_holder(cell) && goes_into_holder(&self.cell) {
            self.series
        } else {
            Self::usual_series(cell, supply)
        };
        Self {
            cell: SharedCell::clone(cell),
            series,
            ..self.clone()
        }
    }

    /// The pack and what it holds when it goes in.
    ///
    /// # Errors
    /// [`PackError`] if the numbers of cells are out of range.
    pub fn pack(&self) -> Result<(Pack, PackState), PackError> {
        let pack = Pack::new(&self.cell.cell, self.series, self.parallel)?;
        let shelf = Time::from_days(self.stored_months * 365.25 / 12.0);
        let start = pack.at(Temperature::REFERENCE).stored(&pack.full(), shelf);
        Ok((pack, start))
    }
}

/// Whether a cell is a single one of the sizes and voltages that holders are made for.
fn goes_into_holder(cell: &NamedCell) -> bool {
    cell.cell.in_series == 1 && cell.cell.open_circuit.at(0.5) < Voltage::from_volts(1.9)
}

/// One camera.
#[derive(Clone, Debug)]
pub struct Camera {
    /// Its name.
    pub name: String,
    /// Where the lens points, degrees from north through east.
    pub facing_deg: Option<f64>,
    /// What it can do.
    pub kind: Kind,
    /// Its cells.
    pub pack: PackChoice,
    /// What it draws.
    pub draw: Draw,
    /// What passes.
    pub activity: Activity,
    /// Which model it is: a label, or the name of its kind.
    pub model: String,
    /// Its battery input.
    pub supply: Supply,
    /// How well the voltages of that are known.
    pub limits: Limits,
    /// What is set in its menu.
    pub settings: Settings,
    /// Every figure of its draw, with where it comes from.
    pub assumed: Figures<Assumed>,
    /// Its solar panel, if it has one.
    pub panel: Option<PanelChoice>,
}

impl Camera {
    /// Whether it has anything to send: pictures, or reports that it is alive.
    #[must_use]
    pub fn sends(&self) -> bool {
        self.draw.upload.is_some() || self.draw.check_in.is_some()
    }

    /// The camera with `pack` for the model to run.
    ///
    /// # Errors
    /// [`PackError`] if the numbers of cells are out of range.
    pub fn scenario(&self, pack: &PackChoice) -> Result<Scenario, PackError> {
        let panel = self.panel.as_ref();
        let feeds = panel.map(|panel| panel.feeds(pack, &self.draw));
        let (pack, start) = pack.pack()?;
        Ok(Scenario {
            pack,
            start,
            draw: self.draw.clone(),
            feeds,
        })
    }
}

/// Reads a line file.
///
/// # Errors
/// [`Failure::Input`] with every problem of the file and its place; [`Failure::Request`] if it
/// cannot be read at all.
pub fn load(files: &dyn Files, path: &Path) -> Result<Line, Failure> {
    LineFile::open(files, path)?.line()
}
