//! What to pour, and which rubber: the sum of concentrate and water, and advice with its source.

use super::minus;
use crate::el::{El, details, el, how_known, link, note, p, section};
use crate::measure::Screen;
use crate::words;
use job::{AdviceReport, CoolantReport, RefillReport};

/// What the coolant does as it is, and what to pour, or how to have that worked out.
pub(crate) fn pour(coolant: &CoolantReport, refill: Option<&RefillReport>) -> El {
    let said = section(words::POUR).put(el("p").put(as_it_is(coolant)));
    let how = details(words::HOW_KNOWN).fold(|| words::POUR_HOW.map(|line| el("p").put(line)).into());
    let Some(refill) = refill else {
        let say = p("row", link("bt", Screen::Sheet.at("to-pour"), words::SAY_IT));
        return said.put(note(words::SAY_HOLDS)).put(say).put(how);
    };
    said.put(el("p").put(el("b").put(refill.what.clone())))
        .put(el("p").put(ends(refill)))
        .put(note(words::POUR_CARE))
        .put(how)
}

/// What the coolant does, in one sentence.
fn as_it_is(coolant: &CoolantReport) -> String {
    let mut said = format!(
        "Coolant with {:.0} % {} glycol by volume begins to freeze at {} °C",
        coolant.percent,
        coolant.glycol,
        minus(format!("{:.0}", coolant.freezes_c))
    );
    if let Some(boils) = coolant.boils_c {
        said += &format!(", boils at {boils:.0} °C under the cap");
    }
    if let Some(grows) = coolant.grows_percent {
        said += &format!(", and grows by {grows:.1} % from 20 °C to {:.0} °C", coolant.hot_c);
    }
    said + "."
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
        el("li").put(el("p").put(advice.what.clone()).put(".")).put(how_known(source))
    };
    (!advice.is_empty()).then(|| section(words::RUBBER).put(el("ul").class("ls plain").put_all(advice.iter().map(row))))
}
