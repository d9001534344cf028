use overwinter::line;
use overwinter::odds::{Paths, sample_line};
use overwinter::run::SeasonAir;
use std::path::Path;
fn main() {
    let name = std::env::args().nth(1).unwrap();
    let count: u32 = std::env::args().nth(2).unwrap().parse().unwrap();
    let line = line::load(Path::new(&name)).unwrap();
    let air = SeasonAir::new(&line);
    let cameras: Vec<_> = line.cameras.iter().map(|c| (c, &c.pack)).collect();
    let odds = sample_line(&line, &air, &cameras, Paths { count, seed: 1 }).unwrap();
    println!("{} camera-years", odds.camera_days / 365.25);
    for (c, o) in line.cameras.iter().zip(&odds.cameras) {
        println!(
            "{:10} p10 {:?} p50 {:?} p90 {:?} night p50 {:?} left {:.3}",
            c.name,
            o.dead.days_at(0.1),
            o.dead.days_at(0.5),
            o.dead.days_at(0.9),
            o.night_pictures_lost.days_at(0.5),
            o.mean.charge_left
        );
    }
}
