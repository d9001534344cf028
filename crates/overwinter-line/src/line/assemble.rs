//! A line out of the keys of its file.

use std::collections::HashSet;
use std::path::PathBuf;

use super::cell_files::CellFiles;
use super::file::{CameraKeys, LineKeys};
use super::panel::Standing;
use super::site::Site;
use super::{Camera, Line, MOST_CAMERAS, camera, parse, site, voltage};
use crate::keys::Reader;
use crate::problem::{Problem, in_order};
use crate::shown::is_unprintable;

/// The keys of a line file's text.
pub(super) fn keys_of(text: &str) -> Result<LineKeys, Problem> {
    if text.trim().is_empty() {
        return Err(Problem::whole("the line file is empty").help(
            "start from one of the examples: a [site], a [season], [activity], [pack] and one \
             [[camera]]",
        ));
    }
    parse::parse(text)
}

/// A line out of its keys and its site, with what `reader` has found wrong so far.
pub(super) fn assemble(
    mut reader: Reader,
    keys: &LineKeys,
    own: &CellFiles,
    site: Option<Site>,
) -> Result<Line, Vec<Problem>> {
    own.refuse_namesakes(&mut reader);
    let season = site::read_season(&mut reader, &keys.season);
    let prices = site::read_prices(&mut reader, &keys.prices, own);
    let standing = site::standing(site.as_ref());
    let cameras = read_cameras(&mut reader, keys, own, &standing);
    match (site, season) {
        (Some(site), Some(season)) if reader.problems.is_empty() => Ok(Line {
            path: PathBuf::new(),
            site: site.name,
            place: site.place,
            elevation_m: site.elevation_m,
            elevation_origin: site.elevation_origin,
            snow_by_month: site.snow_by_month,
            climate: site.climate,
            season,
            cameras,
            prices,
        }),
        _ => Err(in_order(reader.problems)),
    }
}

fn read_cameras(
    reader: &mut Reader,
    keys: &LineKeys,
    own: &CellFiles,
    standing: &Standing,
) -> Vec<Camera> {
    if keys.camera.is_empty() {
        let problem = Problem::whole("the line has no camera");
        reader.problem(problem.help("add at least one:\n[[camera]]\nname = \"ford\""));
    }
    if let Some(beyond) = keys.camera.get(MOST_CAMERAS) {
        reader.problem(
            Problem::at(
                beyond.name.span(),
                format!("the line has {} cameras", keys.camera.len()),
                format!("expected at most {MOST_CAMERAS}"),
            )
            .help("divide it into several files"),
        );
        return Vec::new();
    }
    let mut cameras: Vec<Camera> = Vec::with_capacity(keys.camera.len());
    let mut names: HashSet<&str> = HashSet::new();
    for camera in &keys.camera {
        check_name(reader, camera, &names);
        names.insert(camera.name.get_ref());
        let merged = camera::Merged {
            draw: camera.draw.over(&keys.draw.under(&camera.draw)),
            pack: camera.pack.over(&keys.pack),
            activity: camera.activity.over(&keys.activity.under(&camera.activity)),
            settings: camera.settings.over(&keys.settings),
            panel: camera.panel.over(&keys.panel.under(&camera.panel)),
        };
        let before = reader.problems.len();
        let read = camera::read(reader, camera, &merged, own, standing);
        if let Some(read) = read
            && reader.problems.len() == before
        {
            voltage::check(reader, &read, camera, &merged);
            cameras.push(read);
        }
        if readable(camera.name.get_ref()) {
            for problem in &mut reader.problems[before..] {
                problem.cameras.push(camera.name.get_ref().clone());
            }
        }
    }
    cameras
}

/// Whether a name can be printed in a table.
fn readable(name: &str) -> bool {
    !name.trim().is_empty() && name.chars().count() <= 40 && !name.chars().any(is_unprintable)
}

fn check_name(reader: &mut Reader, camera: &CameraKeys, before: &HashSet<&str>) {
    let name = camera.name.get_ref();
    if !readable(name) {
        reader.problem(Problem::at(
            camera.name.span(),
            "a camera's name must be something to read",
            "expected 1 to 40 characters that can be printed",
        ));
    }
    if before.contains(name.as_str()) {
        reader.problem(Problem::at(
            camera.name.span(),
            format!("two cameras are called \"{name}\""),
            "expected a name of its own",
        ));
    }
}
