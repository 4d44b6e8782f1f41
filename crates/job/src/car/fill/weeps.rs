//! Where to look when it weeps, the likeliest first, and when to look again.

use crate::car::said::{SaidReport, ours, printed, trade};
use quantity::{Basis, Source};
use serde::{Deserialize, Serialize};

const CLEAN: Source =
    trade("trade pages agree: a clean bright spigot, the right clamp, nipped up after the first heat");
const RUNS: Source = trade("trade pages agree: a leak runs, so suspect the end of the hose before the gasket");
const FLOWS: Source = printed("FAA-H-8083-30, p 7-22: hose flows under its clamp, look for several days");
const HIDES: Source = printed("TM 750-254: small weeps show cold and dry off hot");
const BEHIND: Source = printed("33 CFR 183.560: a clamp sits beyond the bead, the flare or the serrations");
const TENSION: Source = trade("trade pages: clamps of constant tension stop weeping when cold");
const SOAK: Source = trade("forum reports: caps and plugs give way just after the engine was switched off");
const RECALLED: Source = Source::new("what a mechanic looks at; recalled, not looked up", Basis::FromMemory);

/// Where to look when it weeps so.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct WeepReport {
    /// "cold only", "hot only" or "always".
    pub when: String,
    /// Where, the likeliest first.
    pub look: Vec<SaidReport>,
}

/// When to look again.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct NextLookReport {
    /// So many days after it was filled.
    pub after_days: u32,
    /// At what.
    pub look: SaidReport,
}

/// `screws`: whether a clamp with a screw holds any hose.
pub(super) fn weeps(screws: bool) -> Vec<WeepReport> {
    let said = |key: &str, what: &str, source: &Source| SaidReport::new(key, what, source);
    let mut cold = Vec::new();
    if screws {
        cold.push(said(
            "nip up",
            "A screw clamp on a hose that has set since: nip it up, cold, to its second torque.",
            &FLOWS,
        ));
    }
    cold.extend([
        said("dirt", "Dirt, old rubber or pits on the spigot under the hose: take it off, clean it bright.", &CLEAN),
        said(
            "spring",
            "It comes back each cold morning: a clamp of constant tension or a spring band follows the rubber.",
            &TENSION,
        ),
        said("gasket", "Only then the gasket or the part behind: coolant runs along a hose before it drips.", &RUNS),
    ]);
    let hot = vec![
        said("crust", "A small weep dries off when hot: look for the crust it leaves at the ends of the hose.", &HIDES),
        said("closures", "Caps, plugs and loops: they carry the most just after the engine is switched off.", &SOAK),
        said(
            "cap",
            "The cap or its seat: coolant by the filler, bottle over-full. A worn cap lets off too soon.",
            &RECALLED,
        ),
        said(
            "crack",
            "A crack in the hose that pressure opens: squeeze it near its ends when it is cold again.",
            &RECALLED,
        ),
    ];
    let always = vec![
        said("band", "The band: on the bead or half off the end instead of behind the bead and square.", &BEHIND),
        said("end", "The end of the hose: cut askew, cut by the bead, not far enough on.", &CLEAN),
        said(
            "bore",
            "The bore: a hose that can be turned by hand on its spigot before it is clamped is too wide.",
            &RECALLED,
        ),
        said("spigot", "The spigot: cracked, rusted through, pitted under the band.", &CLEAN),
        said(
            "gasket",
            "Only then the gasket, the drain tap and the pump: dry it, and see where it comes from first.",
            &RUNS,
        ),
    ];
    let told = [("cold only", cold), ("hot only", hot), ("always", always)];
    // Ticked off by its key: the same look cold and hot is two.
    let keyed = |when: &str, said: SaidReport| SaidReport { key: format!("{when}: {}", said.key), ..said };
    told.map(|(when, look)| WeepReport {
        when: when.to_owned(),
        look: look.into_iter().map(|said| keyed(when, said)).collect(),
    })
    .into()
}

pub(super) fn next_looks(screws: bool) -> Vec<NextLookReport> {
    let several = ours("FAA-H-8083-30, p 7-22, says several days; that a week will do is our choice");
    let yearly = trade("common practice: hoses are squeezed and the strength is tested once a year");
    let old = trade("ten trade and press pages: 2 to 10 years, six of them 4 to 5");
    let look = |after_days, key: &str, what: &str, source: &Source| NextLookReport {
        after_days,
        look: SaidReport::new(key, what, source),
    };
    let week = if screws {
        "Every joint cold, the level, and the screws once more."
    } else {
        "Every joint cold, and the level."
    };
    vec![
        look(1, "first cold", "Cold, the morning after: every joint, every closure, the level.", &HIDES),
        look(7, "week", week, &several),
        look(
            365,
            "year",
            "Squeeze every hose near its ends when cold; test the strength; look at clamps and closures.",
            &yearly,
        ),
        look(4 * 365, "age", "The rubber is getting old: think of new hoses before the next long journey.", &old),
    ]
}
