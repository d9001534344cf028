//! What each command computes and says. A command gives its whole answer as text; the caller
//! prints it.

mod budget;
pub mod catalogue;
pub mod cell_from_points;
pub mod check;
pub mod compare;
pub mod discharge;
pub mod embed;
mod figures;
pub mod forecast;
mod heading;
mod notes;
mod paragraph;
pub mod revisit;
mod set;
pub mod settings;
pub mod solar;
pub mod sun;
pub mod sweep;

use serde::Serialize;
use serde_json::Value;

/// Rounds a number for JSON: no digits beyond what the model can know.
fn rounded(number: f64, decimals: i32) -> Value {
    let scale = 10_f64.powi(decimals);
    // A rounded zero keeps no sign.
    Value::from((number * scale).round() / scale + 0.0)
}

/// A JSON document as it is printed.
fn document(value: &Value) -> String {
    // A value made of maps, lists, numbers and text always has a text form.
    let mut text = serde_json::to_string_pretty(value).unwrap_or_default();
    text.push('\n');
    text
}

/// The JSON text of an answer's document.
fn json_text(answer: &impl Serialize) -> String {
    // What a document is made of always has a form in JSON. Its keys come in the alphabet's order.
    document(&serde_json::to_value(answer).unwrap_or_default())
}
