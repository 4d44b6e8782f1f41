//! Every way the hose can lie at this length, where there are several: each with its verdict, to be picked with one tap.

use super::mark;
use crate::el::{El, button, div, el, note, section, unseen};
use crate::form::Draft;
use crate::words;
use job::{CandidateReport, WayReport};
use leptos::prelude::*;
use share::json::Value;

/// The ways; nothing where there is one and none was picked.
pub(crate) fn ways(best: &CandidateReport, draft: RwSignal<Draft>) -> Option<El> {
    let picked = draft.with_untracked(|draft| draft.is_said(0, "bows"));
    if best.ways_to_lie.len() < 2 && !picked {
        return None;
    }
    let rows = best.ways_to_lie.iter().map(|way| row(way, picked, draft));
    let open =
        picked.then(|| button("bt", words::ANY_WAY, move || draft.update(|draft| draft.set(0, "bows", Value::Null))));
    let says = if picked { words::PICKED_WAY } else { words::WORST_WAY };
    Some(section(words::WAYS).put(note(says)).put(el("ul").class("ls").put_all(rows)).put(open))
}

fn row(way: &WayReport, picked: bool, draft: RwSignal<Draft>) -> El {
    let verdict = way.verdict.as_deref().unwrap_or("not checked");
    let bows = way.bows;
    let pick = move || draft.update(|draft| draft.set(0, "bows", Value::from(bows)));
    let led = (!way.of_itself).then_some(" Only if it is led round on purpose.");
    let shown = if way.told { "Shown. " } else { "" };
    let why = way.why.as_ref().map(|why| format!("{shown}{}", super::findings::sentence(why)));
    let choose = (!(picked && way.told)).then(|| div("row").put(button("bt", words::LAY_IT_SO, pick)));
    el("li")
        .attr("class", (verdict == "fail").then_some("no"))
        .put(mark(verdict))
        .put(el("h3").put(super::findings::sentence(&way.name)).put(" ").put(unseen(words::verdict(verdict))))
        .put(el("p").put(why).put(led))
        .put(choose)
}
