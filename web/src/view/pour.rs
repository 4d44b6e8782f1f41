//! What to pour, and which rubber: the sum of concentrate and water, and advice with its source.

use super::minus;
use crate::el::{El, details, div, el, link, note, p, section};
use crate::words;
use job::{AdviceReport, RefillReport};

/// What to pour, or how to have it worked out.
pub(crate) fn pour(refill: Option<&RefillReport>) -> El {
    let said = section(words::POUR);
    let Some(refill) = refill else {
        return said.put(note(words::SAY_HOLDS)).put(p("row", link("bt", "#measurements", words::SAY_IT)));
    };
    said.put(el("p").put(refill.what.clone()))
        .put(div("small").put(el("p").put(ends(refill))))
        .put(note(words::POUR_CARE))
}

/// What it ends at, in one sentence.
pub(super) fn ends(refill: &RefillReport) -> String {
    let mut said = format!("Then {:.0} % glycol by volume", refill.ends_percent);
    if let Some(freezes) = refill.freezes_c {
        said += &format!(", begins to freeze at {} °C", minus(format!("{freezes:.0}")));
    }
    if let Some(boils) = refill.boils_c {
        said += &format!(", boils at {boils:.0} °C under the cap");
    }
    if let Some(grows) = refill.grows_l {
        said += &format!("; from cold to hot it grows by {grows:.2} l");
    }
    said + "."
}

/// Which rubber, and what not to use.
pub(crate) fn rubber(advice: &[AdviceReport]) -> Option<El> {
    let row = |advice: &AdviceReport| {
        let source = format!("{} ({}).", advice.source, advice.basis);
        el("li")
            .put(el("p").put(advice.what.clone()).put("."))
            .put(details("How do you know?").put(el("p").put(source)))
    };
    (!advice.is_empty()).then(|| section(words::RUBBER).put(el("ul").class("ls plain").put_all(advice.iter().map(row))))
}
