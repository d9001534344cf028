//! What each make is, against the catalogue's cell, and what makes of a population do.

use std::collections::BTreeMap;
use std::fmt;

use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt};
use nalgebra::storage::Owned;
use nalgebra::{Dyn, OMatrix, OVector, U3, Vector3};
use overwinter_model::bench::{Duty, discharge};
use overwinter_model::cell::catalogue::CatalogueCell;
use overwinter_model::cell::{Cell, CellOnBench, Makes};
use overwinter_model::random::normal;
use overwinter_model::{Current, Load, Temperature, Voltage};

use crate::curves::Curve;

/// What the rig's leads take, ohm: 0.04 to 0.09 by its lithium cells (see the README of the data). The tables
/// of the fit take out as much.
const LEADS_OHM: f64 = 0.09;

/// The rig's logs name no temperature.
const ROOM_C: f64 = 22.0;

/// How one make differs from the catalogue's cell.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Make {
    /// Logarithm of a factor.
    pub(crate) capacity: f64,
    /// Logarithm of a factor.
    pub(crate) resistance: f64,
    /// Added to the open-circuit voltage.
    pub(crate) open_circuit_v: f64,
}

impl fmt::Display for Make {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self {
            capacity,
            resistance,
            open_circuit_v,
        } = self;
        write!(
            f,
            "capacity {capacity:+.3}, resistance {resistance:+.3}, {open_circuit_v:+.4} V"
        )
    }
}

impl Make {
    fn of(values: &Vector3<f64>) -> Self {
        Self {
            capacity: values.x,
            resistance: values.y,
            open_circuit_v: values.z,
        }
    }

    fn values(self) -> Vector3<f64> {
        Vector3::new(self.capacity, self.resistance, self.open_circuit_v)
    }

    /// The cell that this make is.
    fn cell(self, median: &Cell) -> Cell {
        let mut cell = *median;
        cell.capacity = median.capacity * self.capacity.exp();
        let resistance = self.resistance.exp();
        cell.ohmic.fresh = median.ohmic.fresh * resistance;
        for branch in &mut cell.branches {
            branch.resistor.fresh = branch.resistor.fresh * resistance;
        }
        cell.open_circuit.volts = median
            .open_circuit
            .volts
            .map(|volts| volts + self.open_circuit_v);
        cell
    }

    /// The make that comes nearest to these curves.
    pub(crate) fn fitted(entry: &CatalogueCell, curves: &[&Curve]) -> Self {
        let nearest = Nearest {
            median: &entry.cell,
            curves,
            values: Vector3::zeros(),
        };
        let (nearest, report) = LevenbergMarquardt::new()
            .with_ftol(1e-4)
            .with_xtol(1e-4)
            .minimize(nearest);
        assert!(
            report.termination.was_successful(),
            "{:?}",
            report.termination
        );
        Self::of(&nearest.values)
    }
}

/// A discharge of ours: milliampere-hours and volts at the rig.
fn ours(cell: &Cell, current_ma: u32) -> Vec<(f64, f64)> {
    let amperes = f64::from(current_ma) / 1000.0;
    let load = Load::Current(Current::from_amperes(amperes));
    let mut source = CellOnBench::new(cell.at(Temperature::from_celsius(ROOM_C)), cell.full());
    let leads = amperes * LEADS_OHM;
    // The rig stops at 0.8 V; to be compared beyond, ours goes on a little.
    let cut_off = Voltage::from_volts(0.6 + leads);
    let mut points = Vec::new();
    let _ = discharge(
        &mut source,
        Duty::continuous(load).segments(),
        cut_off,
        |seen| {
            let charge = seen.delivered.as_milliampere_hours();
            points.push((charge, seen.voltage.as_volts() - leads));
        },
    );
    points
}

/// The voltage after so much charge; `None` after the end.
fn volts_at(points: &[(f64, f64)], charge: f64) -> Option<f64> {
    let next = points.partition_point(|(at, _)| *at < charge);
    let (after, low) = points.get(next)?;
    let Some((before, high)) = next.checked_sub(1).and_then(|at| points.get(at)) else {
        return Some(*low);
    };
    let share = (charge - before) / (after - before).max(1e-9);
    Some(high + (low - high) * share)
}

/// Looks for the make.
struct Nearest<'a> {
    median: &'a Cell,
    curves: &'a [&'a Curve],
    values: Vector3<f64>,
}

/// How far off a good model of a make is, volts.
const GOOD_V: f64 = 0.02;

/// Makes differ by about so much: what their curves do not tell stays near the median.
const USUAL: Vector3<f64> = Vector3::new(0.1, 0.3, 0.03);

impl Nearest<'_> {
    fn off(&self, values: &Vector3<f64>) -> Vec<f64> {
        let cell = Make::of(values).cell(self.median);
        let mut discharges = BTreeMap::new();
        let mut off = Vec::new();
        for curve in self.curves {
            let points = discharges
                .entry(curve.current_ma)
                .or_insert_with(|| ours(&cell, curve.current_ma));
            for &(charge, volts) in &curve.points {
                // Where ours has ended it has next to nothing.
                let ours = volts_at(points, charge).unwrap_or(0.6);
                off.push(((ours - volts) / GOOD_V).clamp(-5.0, 5.0));
            }
        }
        off.extend(values.component_div(&USUAL).iter());
        off
    }
}

impl LeastSquaresProblem<f64, Dyn, U3> for Nearest<'_> {
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, U3>;
    type ParameterStorage = Owned<f64, U3>;

    fn set_params(&mut self, values: &Vector3<f64>) {
        self.values = *values;
    }

    fn params(&self) -> Vector3<f64> {
        self.values
    }

    fn residuals(&self) -> Option<OVector<f64, Dyn>> {
        Some(OVector::from_vec_generic(
            Dyn(self.off(&self.values).len()),
            nalgebra::U1,
            self.off(&self.values),
        ))
    }

    fn jacobian(&self) -> Option<OMatrix<f64, Dyn, U3>> {
        let base = self.off(&self.values);
        let columns = [0, 1, 2].map(|number| {
            let step = USUAL[number] * 0.02;
            let mut moved = self.values;
            moved[number] += step;
            let there = self.off(&moved);
            let slopes = there
                .iter()
                .zip(&base)
                .map(|(there, base)| (there - base) / step);
            OVector::from_iterator_generic(Dyn(base.len()), nalgebra::U1, slopes)
        });
        Some(OMatrix::from_columns(&columns))
    }
}

/// How far some makes lie from the catalogue's cell, in the root mean square: it stands between what makers
/// print and what was measured of the same brands, and a purchase is of either.
pub(crate) fn spread(makes: &[Make]) -> Makes {
    let product = |a: usize, b: usize| {
        let products = makes.iter().map(|make| make.values()[a] * make.values()[b]);
        products.sum::<f64>() / makes.len() as f64
    };
    let sd = |of| product(of, of).sqrt();
    Makes {
        capacity: sd(0),
        resistance: sd(1),
        correlation: product(0, 1) / (sd(0) * sd(1)),
        open_circuit: Voltage::from_volts(sd(2)),
    }
}

/// A population about the catalogue's cell.
pub(crate) struct Population {
    cell: Cell,
    makes: Makes,
}

/// How two cells of a packet differ in resistance, of the logarithm: these curves. Along a string it evens
/// out, so seasons do without.
const PACKET_RESISTANCE: f64 = 0.05;

/// So many makes stand for a population: with a fifth of them shares move by a hundredth.
const DRAWS: u32 = 1500;

impl Population {
    pub(crate) fn of_catalogue(entry: &CatalogueCell) -> Self {
        Self {
            cell: entry.cell,
            makes: entry.cell.makes,
        }
    }

    /// That of which these makes are.
    pub(crate) fn of(entry: &CatalogueCell, makes: &[Make]) -> Self {
        Self {
            cell: entry.cell,
            makes: spread(makes),
        }
    }

    /// One of its makes, and in it one cell.
    fn make(&self, number: u32) -> Make {
        let [first, second, third, fourth, fifth] = deviates(number);
        let correlation = self.makes.correlation;
        let resisting = correlation * first + (1.0 - correlation * correlation).sqrt() * second;
        Make {
            capacity: self.makes.capacity * first + self.cell.spread * fourth,
            resistance: self.makes.resistance * resisting + PACKET_RESISTANCE * fifth,
            open_circuit_v: self.makes.open_circuit.as_volts() * third,
        }
    }

    /// What its makes do.
    pub(crate) fn band(self) -> Band {
        Band {
            population: self,
            curves: BTreeMap::new(),
        }
    }
}

/// Five normal deviates, evenly spread over many numbers: the multiples of powers of a root of
/// `x^6 = x + 1`, modulo 1 (a sequence of low discrepancy; the generalised golden ratio).
fn deviates(number: u32) -> [f64; 5] {
    const ROOT: f64 = 1.134_724_138_401_519_5;
    [1, 2, 3, 4, 5].map(|power| {
        let even = (0.5 + f64::from(number + 1) * ROOT.powi(-power)).fract();
        let [deviate] = normal([even]);
        deviate
    })
}

/// What the makes of a population have at a charge.
pub(crate) struct Band {
    population: Population,
    /// By current, a discharge of each make.
    curves: BTreeMap<u32, Vec<Vec<(f64, f64)>>>,
}

impl Band {
    /// What one make in ten falls below, the median, and what nine in ten fall below. A make that has ended
    /// has less than any that runs.
    pub(crate) fn at(&mut self, current_ma: u32, charge_mah: f64) -> [f64; 3] {
        let population = &self.population;
        let curves = self.curves.entry(current_ma).or_insert_with(|| {
            let makes = (0..DRAWS).map(|number| population.make(number));
            makes
                .map(|make| ours(&make.cell(&population.cell), current_ma))
                .collect()
        });
        let mut volts: Vec<f64> = curves
            .iter()
            .map(|curve| volts_at(curve, charge_mah).unwrap_or(0.0))
            .collect();
        volts.sort_by(f64::total_cmp);
        [0.1, 0.5, 0.9].map(|share| {
            let rank = share * (volts.len() - 1) as f64;
            volts[rank.round() as usize]
        })
    }
}
