//! Odds over panels and stores, and the smallest that does.

use super::sampler::{Lasting, Sampler};
use super::size::{self, Size, StoreSize};
use crate::line::Camera;
use crate::odds::OddsError;
use serde::Serialize;

/// Odds of every panel with every store.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Map {
    /// Panels, watts, rising.
    pub panels_w: Vec<f64>,
    /// Stores, rising.
    pub stores: Vec<StoreSize>,
    /// Panel by panel, and for each by store.
    pub points: Vec<Point>,
}

/// One panel with one store.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Point {
    /// How big.
    pub size: Size,
    /// How long it lasts.
    pub lasting: Lasting,
    /// What panel and store cost, if their prices are known.
    pub cost: Option<f64>,
}

impl Map {
    /// Samples all of it; `own` is the size in the file.
    pub(super) fn new(
        sampler: &Sampler<'_>,
        camera: &Camera,
        own: Option<Size>,
    ) -> Result<Self, OddsError> {
        let panels_w = size::panels(own.map(|own| own.panel_w));
        let stores = size::stores(camera, own);
        let mut points = Vec::with_capacity(panels_w.len() * stores.len());
        // A row at a time: counts by the hour of all of it would fill the memory.
        for &panel_w in &panels_w {
            let sizes = stores.iter().map(|&store| Size { panel_w, store });
            let sizes: Vec<Size> = sizes.collect();
            let cameras: Vec<Camera> = sizes.iter().map(|size| size.put_on(camera)).collect();
            let odds = sampler.sample(&cameras, false)?;
            let fared = sizes.into_iter().zip(&cameras).zip(odds);
            points.extend(fared.map(|((size, camera), odds)| Point {
                size,
                lasting: sampler.lasting(camera, &odds),
                cost: size.cost(camera, &sampler.line.prices),
            }));
        }
        Ok(Self {
            panels_w,
            stores,
            points,
        })
    }

    /// The cheapest of those that do, if all have a price; else the smallest panel with the smallest
    /// store.
    pub(super) fn smallest(&self, does: impl Fn(&Point) -> bool) -> Option<Point> {
        let mut best: Option<&Point> = None;
        for point in self.points.iter().filter(|point| does(point)) {
            let cheaper = best.is_none_or(|best| {
                let costs = point.cost.zip(best.cost);
                // From the smallest panel and store on: of equal ones the first stays.
                costs.is_some_and(|(cost, least)| cost < least - 1e-9)
            });
            if cheaper {
                best = Some(point);
            }
        }
        best.copied()
    }

    /// The smallest of those with the best odds; where all have none, the biggest, which comes nearest.
    pub(super) fn best(&self, share: impl Fn(&Lasting) -> f64) -> Option<Point> {
        let mut best: Option<&Point> = None;
        for point in &self.points {
            if best.is_none_or(|best| share(&point.lasting) > share(&best.lasting)) {
                best = Some(point);
            }
        }
        match best {
            Some(best) if share(&best.lasting) > 0.0 => Some(*best),
            _ => self.points.last().copied(),
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn map(alive: &[f64], costs: Option<[f64; 2]>) -> Map {
        let panels_w = vec![1.0, 2.0, 3.0];
        let stores = [5.0, 10.0].map(|wh| StoreSize { wh, strings: None });
        let sizes = panels_w
            .iter()
            .flat_map(|&panel_w| stores.map(|store| Size { panel_w, store }));
        let points = sizes.zip(alive).map(|(size, &alive)| Point {
            size,
            lasting: Lasting {
                alive,
                never_empty: alive,
                night_pictures: None,
                uploads: None,
            },
            cost: costs.map(|[w, wh]| w * size.panel_w + wh * size.store.wh),
        });
        Map {
            points: points.collect(),
            panels_w,
            stores: stores.to_vec(),
        }
    }

    proptest! {
        #[test]
        fn the_smallest_is_the_cheapest_or_the_first_that_does(
            alive in prop::collection::vec(0.0..1.0_f64, 6), wanted in 0.0..1.0_f64,
            prices in prop::option::of([0.0..9.0_f64, 0.0..9.0_f64]),
        ) {
            let map = map(&alive, prices);
            let does = |point: &Point| point.lasting.alive >= wanted;
            let found = map.smallest(does);
            let doing: Vec<&Point> = map.points.iter().filter(|point| does(point)).collect();
            prop_assert_eq!(found.is_some(), !doing.is_empty());
            if let Some(found) = found {
                prop_assert!(does(&found));
                for other in doing {
                    match (found.cost, other.cost) {
                        (Some(least), Some(cost)) => prop_assert!(least <= cost + 1e-9),
                        _ => {
                            let key = |p: &Point| [p.size.panel_w, p.size.store.wh];
                            prop_assert!(key(&found) <= key(other));
                        }
                    }
                }
            }
        }

        #[test]
        fn none_has_better_odds_than_the_best(alive in prop::collection::vec(0.0..1.0_f64, 6)) {
            let map = map(&alive, None);
            let best = map.best(|lasting| lasting.alive).expect("a map of some points");
            prop_assert!(alive.iter().all(|alive| *alive <= best.lasting.alive));
        }
    }
}
