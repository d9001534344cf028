//! The mean winter of one camera on different cells: until when it takes night pictures, and where the
//! energy goes.
//!
//!     cargo run -p overwinter-model --example winter

mod camera;

use overwinter_model::cell::catalogue;
use overwinter_model::season::{self, Ending};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    println!("cells         night pictures for     used      still in the cells");
    for name in ["alkaline-aa", "nimh-aa", "lithium-aa"] {
        let Some(entry) = catalogue::find(name) else {
            continue;
        };
        let camera = camera::camera(&entry.cell)?;
        let outcome = season::run(&camera.scenario, camera.hours(), 1, |_| {});
        let lost = outcome.ends[Ending::NightPictures];
        let days = lost.map_or(outcome.followed, |end| end.after).as_days();
        let books = outcome.ledger;
        println!(
            "{name:<13} {} {days:>4.0} days   {:>4.1} Wh   {:>4.1} Wh",
            if lost.is_some() {
                "only    "
            } else {
                "at least"
            },
            books.used.total().as_watt_hours(),
            books.left.as_watt_hours(),
        );
    }
    Ok(())
}
