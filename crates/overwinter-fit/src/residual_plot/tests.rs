use super::*;
use crate::points::usable;
use crate::recipe::RECIPES;
use overwinter_line::fit::residuals;
use overwinter_model::cell::catalogue::find;

/// Each figure stands once over temperature, and once over load time unless it is of a cell without a load.
#[test]
fn every_figure_is_shown() {
    let notes = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../datasheets-notes");
    let mut shown = 0;
    for recipe in RECIPES {
        let entry = find(recipe.name).expect("a cell");
        let rows = crate::notes(&notes, recipe.name).expect("its table");
        let points = usable(rows, entry, &recipe.weights);
        let all = residuals(&entry.into(), &points);
        let count = |volts: bool, loaded: bool| {
            let own = all.iter().filter(|r| {
                let row = &r.point.row;
                let unloaded = ["", "open"].contains(&row.condition_load.as_str());
                let kept = row.quantity == "capacity_pct_after_storage" && unloaded;
                let open = row.quantity == "ocv_V" || kept;
                (Group::of(row) == Group::Voltages) == volts && !(loaded && open)
            });
            own.count()
        };
        let expected = [(false, true), (true, true), (false, false), (true, false)];
        let expected = expected.map(|(volts, loaded)| count(volts, loaded));
        let drawn = panels(entry, &all).map(|panel| panel.marks.len());
        assert_eq!(drawn, expected, "{}", recipe.name);
        shown += all.len();
    }
    assert!(shown > 300, "{shown}");
}

#[test]
fn an_axis_has_the_words_of_its_ticks() {
    for across in [Across::Span, Across::Temperature] {
        let words = across.ticks().into_iter().map(|at| across.word(at));
        assert!(words.into_iter().all(|word| !word.is_empty()));
    }
    assert_eq!(Across::Span.word(1.0), "10 s");
    assert_eq!(Across::Temperature.word(-20.0), "-20");
}
