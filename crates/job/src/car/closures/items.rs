//! What closes the open ends, for the shopping list: what was decided on, or else the best that does.

use super::{ClosureReport, ClosuresReport, OpenEndReport};
use crate::car::shopping::ItemReport;
use quantity::{Basis, Source};

const CLOSES: Source = Source::new("what was decided on, or else the first way that does", Basis::OurChoice);

/// The items; a loop is a line of its own.
pub(crate) fn to_close(closures: &ClosuresReport) -> Vec<ItemReport> {
    closures
        .open
        .iter()
        .flat_map(|open| open.options.first().map_or_else(Vec::new, |option| items(open, option)))
        .collect()
}

fn items(open: &OpenEndReport, option: &ClosureReport) -> Vec<ItemReport> {
    if option.verdict == "fail" {
        return Vec::new();
    }
    let serves = format!("{}, {}", open.part, open.spigot);
    let item =
        |word: &str, what: String| ItemReport::one("closures", format!("{word} for {serves}"), what, &serves, &CLOSES);
    let clamps = |count: f64| {
        let what = match option.clamps.first() {
            Some(clamp) => {
                let [least, greatest] = clamp.range_mm;
                format!("{} clamp, {} size {}: {least} to {greatest} mm", clamp.kind, clamp.standard, clamp.size)
            }
            None => "worm drive clamp, for the hose as it sits on the spigot, to be measured".to_owned(),
        };
        ItemReport { amount: count, ..item("clamps", what) }
    };
    match option.kind.as_str() {
        "hose and plug" => {
            let hose = format!("{}, for coolant", option.hose.as_deref().unwrap_or("reinforced hose"));
            let plug = match (option.plug_mm, option.plug_long_mm) {
                (Some(thick), Some(long)) => {
                    format!("smooth round metal plug, {thick} mm thick, {long} mm long or longer")
                }
                _ => "smooth round metal plug, as thick as the spigot, to be measured".to_owned(),
            };
            let hose = ItemReport { length_mm: option.hose_mm, ..item("hose", hose) };
            vec![hose, item("plug", plug), clamps(2.0)]
        }
        "cap" => {
            let bore = option.bore_mm.map_or_else(|| "to be measured".to_owned(), |mm| format!("{mm} mm"));
            let cap = format!("reinforced blanking cap for coolant, bore {bore}");
            vec![item("cap", cap), clamps(1.0)]
        }
        "thread plug" => {
            let thread = option.thread.as_deref().unwrap_or_default();
            vec![item("plug", format!("plug for thread {thread}, with its seal"))]
        }
        _ => Vec::new(),
    }
}
