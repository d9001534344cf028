//! `revisit`: the latest day to be back.

use serde_json::{Value, json};

use crate::sandbox::{LINE, Sandbox};

/// Three cameras: one that cold and flash end soon, one whose card fills, one that lasts.
fn three() -> Sandbox {
    let milder = LINE.replace("boreal-inland", "temperate-inland");
    let line = format!(
        "{milder}
[[camera]]
name = \"gate\"
pack = {{ cell = \"lithium-aa\" }}
settings = {{ card_gb = 0.3 }}

[[camera]]
name = \"ridge\"
pack = {{ cell = \"lithium-aa\" }}
settings = {{ flash_pct = 50 }}
draw = {{ flash_w = 5 }}

[prices]
currency = \"EUR\"
visit = 30
[prices.cell]
alkaline-aa = 0.8
lithium-aa = 2.4
"
    );
    Sandbox::with_line(line)
}

fn revisit(sandbox: &Sandbox, risk: &str, more: &[&str]) -> Value {
    let args = [
        "revisit",
        "line.toml",
        "--json",
        "--paths",
        "200",
        "--risk",
        risk,
    ];
    sandbox.run(&[&args, more].concat()).json()
}

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().expect("a list")
}

/// The risk by the end of each day, from the start's own on.
fn risks(one: &Value) -> Vec<f64> {
    let risks = list(one, "risk_by_day").iter();
    risks.map(|risk| risk.as_f64().expect("a share")).collect()
}

/// Days to the latest day, or the season's where no visit is needed.
fn days(one: &Value) -> u64 {
    one["latest_days"].as_u64().unwrap_or(44)
}

#[test]
fn answers_are_as_stored() {
    let args = ["revisit", "line.toml", "--risk", "5%", "--paths", "200"];
    insta::assert_snapshot!("revisit", three().run(&args).good());
}

#[test]
fn risk_grows_with_the_interval_and_that_of_any_camera_is_the_largest() {
    let json = revisit(&three(), "5%", &[]);
    let any = risks(&json["line"]);
    assert_eq!(any.len(), 45);
    assert!(any.is_sorted() && any[44] > any[0], "{any:?}");
    let cameras: Vec<Vec<f64>> = list(&json, "cameras").iter().map(risks).collect();
    assert_eq!(cameras.len(), 3);
    for (day, any) in any.iter().enumerate() {
        let each = cameras.iter().map(|risks| risks[day]);
        let largest = each.clone().fold(0.0, f64::max);
        let sum: f64 = each.sum();
        assert!(
            (largest - 1e-9..=sum + 1e-3).contains(any),
            "{largest} {any} {sum}"
        );
    }
    assert!(cameras.iter().all(|risks| risks.is_sorted()));
}

#[test]
fn a_latest_day_is_the_last_within_the_risk() {
    for share in [0.01, 0.05, 0.3] {
        let json = revisit(&three(), &share.to_string(), &[]);
        let cameras = list(&json, "cameras").iter().chain([&json["line"]]);
        for one in cameras {
            let risks = risks(one);
            let Some(days) = one["latest_days"].as_u64() else {
                assert!(one["latest_day"].is_null() && risks[44] <= share, "{one}");
                assert_eq!(one["visit_needed"], false);
                continue;
            };
            let days = days as usize;
            assert!(risks[days + 1] > share, "{one}");
            assert!(days == 0 || risks[days] <= share, "{one}");
            assert_eq!(json!(risks[days]), one["risk_then"], "{one}");
            let later = json!(risks[days + 1]);
            assert_eq!(later, one["risk_a_day_later"], "{one}");
            let date = one["latest_day"].as_str().expect("a date");
            assert!(("2026-11-01"..="2026-12-15").contains(&date), "{date}");
        }
        let first = list(&json, "cameras").iter().map(days).min();
        assert!(Some(days(&json["line"])) <= first);
    }
}

/// The row, the table below it, the days of JSON and `forecast --by` mean the same day by one number.
#[test]
fn a_risk_is_that_by_the_end_of_its_day_wherever_it_stands() {
    let sandbox = three();
    let json = revisit(&sandbox, "5%", &["--camera", "gate"]);
    let gate = &list(&json, "cameras")[0];
    let by = gate["latest_day"].as_str().expect("a date");
    let forecast = ["forecast", "line.toml", "--json", "--paths", "200"];
    let asked = ["--camera", "gate", "--by", by];
    let forecast = sandbox.run(&[&forecast[..], &asked].concat()).json();
    let whole = &forecast["cameras"][0]["odds_by"][0]["record_whole"];
    let lost = 1.0 - whole.as_f64().expect("a share");
    let then = gate["risk_then"].as_f64().expect("a share");
    assert!(then > 0.0 && (then - lost).abs() < 1e-9, "{then} {lost}");

    let args = ["revisit", "line.toml", "--risk", "40%", "--paths", "200"];
    let text = sandbox
        .run(&[&args[..], &["--camera", "gate"]].concat())
        .good();
    let words = |line: &str| {
        line.split_whitespace()
            .map(str::to_owned)
            .collect::<Vec<_>>()
    };
    let head = text
        .lines()
        .find(|line| line.starts_with("camera") && line.contains(" 14 "));
    let place = words(head.expect("a table"))
        .iter()
        .position(|days| days == "28");
    let mut rows = text.lines().filter(|line| line.starts_with("gate"));
    let below = rows.next_back().map(words).expect("a row");
    let shown: f64 = below[place.expect("28 days")].parse().expect("a number");
    let risks = risks(gate);
    assert!(
        (shown - 100.0 * risks[28]).abs() <= 0.5,
        "{shown} {risks:?}"
    );
}

/// Most seasons last the first day and few the second: back the same day, within the risk.
#[test]
fn who_must_be_back_the_same_day_is_told_so() {
    let busy = LINE.replace(
        "8\n\n[[camera]]",
        "8\n\n[settings]\ncard_gb = 0.02\n\n[draw]\nflash_w = 4\npicture_mb = 2\n\
         night_picture_mb = 1.2\n\n[[camera]]",
    );
    let sandbox = Sandbox::with_line(busy);
    let json = revisit(&sandbox, "20%", &[]);
    let ford = &list(&json, "cameras")[0];
    assert_eq!(ford["latest_days"], 0, "{ford}");
    assert!(ford["risk_then"].as_f64() <= Some(0.2), "{ford}");
    let text = sandbox
        .run(&["revisit", "line.toml", "--risk", "20%"])
        .good();
    assert!(
        text.contains("the same day") && !text.contains("not one day"),
        "{text}"
    );
}

#[test]
fn who_takes_more_risk_comes_later_and_a_lasting_camera_needs_no_visit() {
    let sandbox = three();
    let [careful, bold] = ["1%", "20%"].map(|risk| revisit(&sandbox, risk, &[]));
    for (careful, bold) in list(&careful, "cameras").iter().zip(list(&bold, "cameras")) {
        assert!(days(careful) <= days(bold), "{careful} {bold}");
    }
    assert!(days(&careful["line"]) <= days(&bold["line"]));
    let ridge = &list(&careful, "cameras")[2];
    assert!(
        ridge["latest_day"].is_null() && ridge["visits"] == 0,
        "{ridge}"
    );
    let text = sandbox
        .run(&["revisit", "line.toml", "--risk", "5%", "--camera", "ridge"])
        .good();
    assert!(
        text.contains("no visit needed") && text.contains("No visit is needed"),
        "{text}"
    );
}

#[test]
fn visits_cover_the_season_and_are_paid_for() {
    let json = revisit(&three(), "30%", &[]);
    let visits = &json["visits"];
    let days = list(visits, "days");
    assert_eq!(visits["count"], days.len());
    assert!(!days.is_empty());
    assert_eq!(days[0]["date"], json["line"]["latest_day"]);
    let dates: Vec<&str> = days
        .iter()
        .map(|day| day["date"].as_str().expect("a date"))
        .collect();
    assert!(dates.is_sorted() && dates.iter().all(|date| *date <= "2026-12-15"));
    assert!(
        days.iter()
            .all(|day| day["interval_days"].as_u64() >= Some(1))
    );
    let count = days.len() as f64;
    let cost = |key: &str| visits[key].as_f64().expect("an amount");
    assert!((cost("cost_walks") - 30.0 * count).abs() < 0.01);
    let set = 8.0 * 0.8 + 2.0 * 8.0 * 2.4;
    assert!((cost("cost_cells_all_changed") - set * count).abs() < 0.01);
    let prices = [8.0 * 0.8, 8.0 * 2.4, 8.0 * 2.4];
    let due = list(visits, "fresh_sets_due").iter().zip(prices);
    let sets = due.map(|(due, price)| (due["sets"].as_u64().expect("a number") as f64, price));
    let sets: Vec<(f64, f64)> = sets.collect();
    // One that lasts the season keeps its set; none gets more than one at each visit.
    assert!(
        sets[2].0 == 0.0 && sets.iter().all(|(sets, _)| *sets <= count),
        "{sets:?}"
    );
    let paid: f64 = sets.iter().map(|(sets, price)| sets * price).sum();
    assert!((cost("cost_cells") - paid).abs() < 0.01);
    let kept: f64 = days
        .iter()
        .map(|day| 1.0 - day["risk"].as_f64().expect("a share"))
        .product();
    let season = json["line"]["season_risk"].as_f64().expect("a share");
    assert!(
        season >= 1.0 - kept - 1e-3 && season <= 1.0 - kept * 0.7 + 1e-3,
        "{season}"
    );
}

#[test]
fn what_fails_at_once_is_said_and_not_called_lasting() {
    let hopeless = LINE.replace("8\n\n[[camera]]", "400\n\n[[camera]]");
    let sandbox = Sandbox::with_line(format!("{hopeless}draw = {{ flash_w = 17 }}\n"));
    let json = revisit(&sandbox, "5%", &[]);
    let ford = &list(&json, "cameras")[0];
    assert_eq!(
        (&ford["latest_days"], &ford["visit_needed"]),
        (&0.into(), &true.into())
    );
    assert_eq!(ford["latest_day"], "2026-11-01");
    assert!(json["visits"].is_null() && ford["visits"].is_null());
    let text = sandbox
        .run(&["revisit", "line.toml", "--risk", "5%"])
        .good();
    assert!(
        text.contains("not one day") && text.contains("not even a visit a day"),
        "{text}"
    );
}

#[test]
fn slips_are_refused() {
    let sandbox = Sandbox::with_line(LINE);
    for (args, says) in [
        (&["--risk", "5"][..], "not above 0 and below 1"),
        (&["--risk", "0%"], "not above 0"),
        (&["--risk", "-0.05"], "--risk is -0.05"),
        (&["--risk", "-5%"], "--risk is -5%, which is not above 0"),
        (&["--risk", "five"], "not a number"),
        (&["--risk", "nan"], "not above 0"),
        (
            &["--risk", "1%", "--paths", "50"],
            "expected --paths 100 or more",
        ),
        (&["--risk", "5%", "--camera", "frd"], "did you mean `ford`?"),
        (&["--rsk", "5%"], "'--risk'"),
        (&[], "--risk <SHARE>"),
    ] {
        let said = sandbox
            .run(&[&["revisit", "line.toml"], args].concat())
            .refused();
        assert!(said.contains(says), "{said}");
    }
    let prices = Sandbox::with_line(format!("{LINE}\n[prices]\nvisit = -3\n"));
    let said = prices.run(&["check", "line.toml"]).refused();
    assert!(said.contains("`visit` is -3"), "{said}");
}

#[test]
fn threads_change_nothing() {
    let sandbox = three();
    let args = [
        "revisit",
        "line.toml",
        "--risk",
        "10%",
        "--json",
        "--paths",
        "300",
    ];
    let [one, two] = [1, 2].map(|threads| sandbox.run_on(threads, &args).good());
    assert!(one == two);
}
