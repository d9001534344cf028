//! Panels beside doing without.

use super::map::Point;
use super::sampler::{Lasting, Sampler};
use super::{Answer, Size};
use crate::answer::document::SetDocument;
use crate::line::{Camera, PackChoice};
use crate::odds::OddsError;
use serde::Serialize;

/// The most cells in parallel.
const MOST_PARALLEL: u8 = 24;

/// At most so many are sampled here.
pub(super) const MOST: usize = 2;

/// What could be done.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum Kind {
    /// The pack as it is, without a panel.
    CellsAlone,
    /// Twice the pack, without a panel.
    TwiceTheCells,
    /// The smallest panel and store with the odds asked for.
    Smallest(Size),
    /// The smallest panel and store that carry the camera alone.
    PanelAlone(Size),
}

/// Something that could be done, and what comes of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Choice {
    /// What.
    pub kind: Kind,
    /// The cells in the camera.
    pub set: SetDocument,
    /// How long it lasts; without a store only [`Lasting::alive`] says something.
    pub lasting: Lasting,
    /// What cells, panel and store cost, if all prices are known.
    pub cost: Option<f64>,
}

/// Everything that could be done for a camera, side by side.
pub(super) fn choices(
    sampler: &Sampler<'_>,
    camera: &Camera,
    answer: &Answer,
) -> Result<Vec<Choice>, OddsError> {
    let prices = &sampler.line.prices;
    let cells_cost = |pack: &PackChoice| prices.of(&pack.cell.name, pack.count());
    let without = |parallel: u8| Camera {
        panel: None,
        pack: PackChoice {
            parallel,
            ..camera.pack.clone()
        },
        ..camera.clone()
    };
    let parallel = camera.pack.parallel;
    let mut kinds = vec![Kind::CellsAlone];
    let mut cameras = vec![without(parallel)];
    let twice = parallel.saturating_mul(2).min(MOST_PARALLEL);
    if twice > parallel {
        kinds.push(Kind::TwiceTheCells);
        cameras.push(without(twice));
    }
    let odds = sampler.sample(&cameras, false)?;
    let fared = kinds.into_iter().zip(cameras).zip(odds);
    let mut choices: Vec<Choice> = fared
        .map(|((kind, camera), odds)| Choice {
            kind,
            lasting: sampler.lasting(&camera, &odds),
            cost: cells_cost(&camera.pack),
            set: (&camera.pack).into(),
        })
        .collect();
    let with_panel = |kind: fn(Size) -> Kind, point: &Point| {
        let pack = point.size.put_on(camera).pack;
        let backup = match point.size.store.strings {
            Some(_) => Some(0.0),
            None => cells_cost(&pack),
        };
        Choice {
            kind: kind(point.size),
            lasting: point.lasting,
            cost: point.cost.zip(backup).map(|(panel, cells)| panel + cells),
            set: (&pack).into(),
        }
    };
    let smallest = answer.smallest.as_ref();
    choices.extend(smallest.map(|point| with_panel(Kind::Smallest, point)));
    let other = answer.panel_alone.as_ref();
    let other = other.filter(|point| answer.smallest.is_none_or(|same| same.size != point.size));
    choices.extend(other.map(|point| with_panel(Kind::PanelAlone, point)));
    Ok(choices)
}
