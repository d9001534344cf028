//! What the light of a year costs: worked out once for a site, and shared by whatever stands there.

use std::hint::black_box;

use overwinter_model::harvest::{
    Canopy, Ground, Horizon, Leaves, Plane, SkyDay, SkyModel, Surroundings,
};
use overwinter_model::{Day, Irradiance, Place, Time};

fn main() {
    divan::main();
}

fn place() -> Place {
    Place::new(61.2, 14.6, 1.0).expect("a place on earth")
}

fn plane() -> Plane {
    Plane::new(60.0, 180.0).expect("angles in range")
}

fn days() -> impl Iterator<Item = Day> {
    (0..365).map(|day| Day::from_days_since_2000(9862 + day))
}

fn sky(day: Day) -> SkyDay {
    SkyDay::new(&place(), day, 250.0, Time::ZERO)
}

/// Hourly sun and light on a plane over a year, at one clearness, in the open.
#[divan::bench]
fn year_on_a_plane() -> Vec<Irradiance> {
    let (plane, open) = (plane(), Surroundings::open());
    year(black_box(&plane), black_box(&open))
}

/// The same behind hills and under trees.
#[divan::bench]
fn year_under_trees(bencher: divan::Bencher) {
    let leaves = Leaves::Deciduous {
        bare_cover: 0.3,
        out: 130,
        fall: 275,
    };
    let surroundings = Surroundings {
        horizon: Horizon::new(&[(90.0, 5.0), (180.0, 8.0), (270.0, 4.0)]).expect("a horizon"),
        canopy: Canopy::new(0.6, leaves).expect("a canopy"),
        ground: Ground::default(),
        kept_off_by_month: [Surroundings::DIRT; 12],
    };
    let plane = plane();
    bencher.bench(|| year(black_box(&plane), black_box(&surroundings)));
}

fn year(plane: &Plane, surroundings: &Surroundings) -> Vec<Irradiance> {
    let mut hours = Vec::with_capacity(8760);
    for day in days() {
        let sky = sky(day);
        let around = surroundings.on(day);
        let lit = sky.suns().iter().zip(sky.at_clearness(0.45));
        hours.extend(lit.map(|(sun, light)| {
            let on_plane = around.light(plane, sun, &light, SkyModel::HayDavies);
            on_plane.total()
        }));
    }
    hours
}

/// The sun alone.
#[divan::bench]
fn year_of_sun() -> Vec<SkyDay> {
    days().map(sky).collect()
}

/// The expected light from a month's clearness and spread: three days in place of one.
#[divan::bench]
fn year_from_normals() -> Irradiance {
    let plane = plane();
    let mut sum = Irradiance::ZERO;
    for day in days() {
        let hours = sky(day).expected(0.45, 0.15, |sun, light| {
            plane.light(sun, light, 0.2, SkyModel::HayDavies).total()
        });
        sum = hours.into_iter().fold(sum, |sum, hour| sum + hour);
    }
    sum
}
