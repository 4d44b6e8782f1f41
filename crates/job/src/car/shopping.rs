//! The shopping list: everything that the runs and the lines of a car ask for, in one list.

use super::cuts::{CutsReport, Wanted, wanted};
use super::{CanBuy, Car, Decision, Line, PartKind};
use crate::report::HoseReport;
use crate::run::OnSpigot;
use crate::size::Candidate;
use crate::solve::SolvedRun;
use crate::tell::tenth;
use crate::{Job, Run};
use checks::{ClampChoice, Cover, clamps_for_ends};
use quantity::{Basis, Length, Source};
use serde::{Deserialize, Serialize};
use stock::{ClampKind, Stock};

/// So many clamps of each size are bought over.
const SPARE: usize = 1;
const CLAMP: Source = Source::new(
    "a worm drive at every end, since it is sold one by one; a spring band does as well; one of each size to spare",
    Basis::OurChoice,
);
const HOSE: Source = Source::new("from the cut list", Basis::OurChoice);
const ELBOW: Source =
    Source::new("the lengths of its legs are a guess: what is found on a rack decides", Basis::OurChoice);
const JOINER: Source = Source::new("one in the far end of each elbow", Basis::OurChoice);
const SLEEVE: Source = Source::new("over the whole hose, seats too: as long as its cut", Basis::OurChoice);
const HELD: Source = Source::new("one for each place where the hose is held", Basis::OurChoice);
const ORDERED: Source = Source::new("order it for the car, and hold it against the old one", Basis::CommonPractice);
const BY_EYE: Source = Source::new("two for each hose; measured over the hose on its spigot", Basis::CommonPractice);
const FILL: Source = Source::new("from what to pour, rounded up to a tenth of a litre", Basis::OurChoice);
const WATER: Source = Source::new("distilled or deionised: hard water leaves scale", Basis::CommonPractice);
const OPEN: Source = Source::new("cheap beside the work of draining a second time", Basis::CommonPractice);

/// All there is to buy, and what is at hand.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct ShoppingReport {
    /// In the order of their groups.
    pub items: Vec<ItemReport>,
    /// Names of the runs for which nothing is in it, since no hose works there at the cut that is told.
    pub left_out: Vec<String>,
}

/// One line of the list.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ItemReport {
    /// What it is ticked off by; stays while amounts and lengths are changed.
    pub key: String,
    /// "at hand", "hose", "clamps", "fittings", "sleeves", "clips", "closures", "moulded hoses", "coolant" or
    /// "while it is open".
    pub group: String,
    /// What to ask for.
    pub what: String,
    /// How many, or how much, spares among them.
    pub amount: f64,
    /// "pieces" or "l".
    pub unit: String,
    /// How many of them are spare.
    pub spare: usize,
    /// How long each is.
    pub length_mm: Option<f64>,
    /// Names of the runs or lines it is for.
    pub serves: Vec<String>,
    /// On whose word.
    pub source: String,
    /// What that is worth.
    pub basis: String,
}

impl ItemReport {
    /// One of it, for one run or line.
    pub(super) fn one(group: &str, key: String, what: String, serves: &str, source: &Source) -> Self {
        Self {
            key,
            group: group.to_owned(),
            what,
            amount: 1.0,
            unit: "pieces".to_owned(),
            spare: 0,
            length_mm: None,
            serves: vec![serves.to_owned()],
            source: source.what.clone().into_owned(),
            basis: source.basis.as_str().to_owned(),
        }
    }
}

/// The list while it grows.
#[derive(Debug, Default)]
struct List(Vec<ItemReport>);

impl List {
    /// What is there already of the same key becomes more.
    fn add(&mut self, item: ItemReport) {
        let Some(known) = self.0.iter_mut().find(|known| known.key == item.key) else {
            self.0.push(item);
            return;
        };
        known.amount += item.amount;
        for name in item.serves {
            if !known.serves.contains(&name) {
                known.serves.push(name);
            }
        }
    }

    /// Pieces of hose: those of one length together.
    fn hoses(&mut self, cuts: &CutsReport, at_hand: bool) {
        for group in &cuts.groups {
            let here = self.0.len();
            for cut in group.lengths.iter().filter(|cut| cut.at_hand == at_hand) {
                let names = cut.pieces.iter().map(|piece| group.pieces[*piece].name.clone());
                let alike = |item: &&mut ItemReport| item.length_mm == Some(cut.length_mm);
                if let Some(item) = self.0[here..].iter_mut().find(alike) {
                    item.amount += 1.0;
                    item.serves.extend(names);
                    continue;
                }
                let word = if at_hand { "at hand" } else { "hose" };
                let mut key = size(&group.hose);
                if at_hand {
                    key = format!("{key} at hand");
                }
                let before = self.0.iter().filter(|item| item.group == word && item.key.starts_with(&key)).count();
                if before > 0 {
                    key = format!("{key}, {}", before + 1);
                }
                let item = ItemReport::one(word, key, hose(&group.hose, at_hand), "", &HOSE);
                self.0.push(ItemReport { length_mm: Some(cut.length_mm), serves: names.collect(), ..item });
            }
        }
    }

    fn clamp(&mut self, choices: &[ClampChoice<'_>], run: &Run) {
        let worm = choices.iter().find(|choice| choice.clamp.kind == ClampKind::WormDrive);
        let Some(choice) = worm.or(choices.first()) else { return };
        let clamp = choice.clamp;
        let kind = match clamp.kind {
            ClampKind::WormDrive => "worm drive",
            ClampKind::SpringBand => "spring band",
        };
        let [least, greatest, band] =
            [clamp.least, clamp.greatest, clamp.band_greatest].map(|length| tenth(length.as_mm()));
        let key = format!("clamp {kind} {} {} band {band}", clamp.standard, clamp.size);
        let what =
            format!("{kind} clamp, {} size {}: {least} to {greatest} mm, band {band} mm", clamp.standard, clamp.size);
        let known = self.0.iter().any(|item| item.key == key);
        let mut item = ItemReport::one("clamps", key, what, &run.name, &CLAMP);
        if !known {
            item.amount += SPARE as f64;
            item.spare = SPARE;
        }
        self.add(item);
    }

    /// An elbow and its joiner.
    fn elbow(&mut self, on: &OnSpigot, run: &Run) {
        let OnSpigot { elbow, spigot, joiner } = on;
        let bend = elbow.bend.as_degrees().round();
        let (bore, out) = (tenth(spigot.diameter.as_mm()), tenth(joiner.diameter.as_mm()));
        let [leg, far_leg, inside] = [elbow.leg, elbow.far_leg, elbow.inside].map(f64::round);
        // What goes over the spigot comes on top of the leg.
        let leg = leg + spigot.seat.as_mm().round();
        let what = format!(
            "moulded elbow of {bend}°, bore {bore} mm, legs of {leg} and {far_leg} mm or longer, inside radius about {inside} mm"
        );
        let key = format!("elbow on {}, {}", spigot.name, run.name);
        self.add(ItemReport::one("fittings", key, what, &run.name, &ELBOW));
        let what = format!("straight joiner with beads, {out} mm");
        self.add(ItemReport::one("fittings", format!("joiner {out}"), what, &run.name, &JOINER));
    }

    /// What goes over the hose, and what holds it.
    fn over(&mut self, run: &Run, best: &Candidate) {
        let outside = best.hose.outside.as_mm();
        if run.cover == Cover::NewSleeve {
            let what = format!("heat sleeve with a bright face, for a hose {} mm across", tenth(outside));
            let mut item = ItemReport::one("sleeves", format!("sleeve {}", run.name), what, &run.name, &SLEEVE);
            item.length_mm = Some(tenth(best.cut.as_mm()));
            self.add(item);
        }
        let across = tenth(outside + 2.0 * run.cover.thick());
        let sleeved = if run.cover == Cover::Bare { "" } else { ", sleeve and all" };
        for clip in &run.clips {
            let what = format!("{} with rubber, for {across} mm across{sleeved}", clip.holds);
            self.add(ItemReport::one("clips", format!("{} {across}", clip.holds), what, &run.name, &HELD));
        }
    }

    fn moulded(&mut self, line: &Line, car: &Car) {
        let [from, to] = line.ends.map(|end| car.port_name(end));
        let mm = |length: Length| tenth(length.as_mm());
        let bore = line.bore.map_or(String::new(), |bore| format!(", bore {} mm", mm(bore)));
        let long = line.length.map_or(String::new(), |long| format!(", about {} mm long", mm(long)));
        let had = match line.can_buy {
            Some(CanBuy::Straight | CanBuy::Nothing) => "; it was said that none can be bought",
            _ => "",
        };
        let what = format!("moulded hose for {}, from {from} to {to}{bore}{long}{had}", line.name);
        let key = format!("moulded hose {}", line.name);
        self.add(ItemReport::one("moulded hoses", key, what, &line.name, &ORDERED));
        let what = "new clamps for moulded hoses, to measure".to_owned();
        let both = ItemReport::one("moulded hoses", "clamps for moulded hoses".to_owned(), what, &line.name, &BY_EYE);
        self.add(ItemReport { amount: 2.0, ..both });
    }

    fn coolant(&mut self, job: &Job) {
        let Some(refill) = &job.refill else { return };
        let Some(told) = refill.told() else { return };
        let drained = told.drain_l.map(|drain| (refill.fills_l(drain) * 10.0 - 1e-6).ceil() / 10.0);
        let glycol = refill.glycol();
        let what = match refill.ready_mix() {
            Some(strength) => format!("coolant mixed ready, {:.0} % {glycol} glycol", 100.0 * strength),
            None => format!("coolant concentrate, {glycol} glycol"),
        };
        let water = "water, distilled or deionised".to_owned();
        let poured = [("coolant", what, told.pour_l.or(drained), FILL), ("water", water, told.water_l, WATER)];
        for (key, what, litres, source) in poured {
            if let Some(litres) = litres.filter(|litres| *litres > 0.0) {
                let item = ItemReport::one("coolant", key.to_owned(), what, "", &source);
                self.add(ItemReport { amount: tenth(litres), unit: "l".to_owned(), serves: Vec::new(), ..item });
            }
        }
    }

    /// A thermostat whose lines are worked on.
    fn open(&mut self, car: &Car, cut: &[usize]) {
        let changed = |line: &Line| match line.decision {
            Some(Decision::Keep) => false,
            Some(_) => true,
            None => line.run.is_some_and(|run| cut.contains(&run)),
        };
        for (k, part) in car.parts.iter().enumerate() {
            let on_it = |line: &&Line| changed(line) && line.ends.iter().any(|end| end.part == k);
            let mut lines = car.lines.iter().filter(on_it).map(|line| line.name.clone()).peekable();
            if part.kind == PartKind::Thermostat && !part.goes && lines.peek().is_some() {
                let what = format!("new {} that opens at the same temperature, and its gasket", part.name);
                let key = format!("thermostat {}", part.name);
                let item = ItemReport::one("while it is open", key, what, "", &OPEN);
                self.add(ItemReport { serves: lines.collect(), ..item });
            }
        }
    }
}

/// A hose's size in a few letters.
fn size(hose: &HoseReport) -> String {
    let mut size = format!("hose {} x {}", hose.bore_mm, tenth(hose.outside_mm));
    let words = [hose.rubber.as_deref().or(Some(hose.kind.as_str())), hose.class.as_deref()];
    for word in words.into_iter().flatten() {
        size = format!("{size} {word}");
    }
    size
}

/// What to ask for; a hose of one's own has no name in the trade.
fn hose(hose: &HoseReport, at_hand: bool) -> String {
    let class = hose.class.as_deref().map_or(String::new(), |class| format!(", class {class}"));
    let name = match hose.sold_as.as_str() {
        "" if at_hand => "your own hose".to_owned(),
        "" => "hose like your own".to_owned(),
        sold_as => format!("{}, {sold_as}", hose.kind),
    };
    format!("{name}{class}: bore {} mm, outside {} mm", hose.bore_mm, tenth(hose.outside_mm))
}

/// Everything to buy for what is told in the cut list, and for the car; `also` is what closes open ends.
pub(crate) fn tell_shopping(
    solved: &[SolvedRun],
    cuts: Option<&CutsReport>,
    job: &Job,
    stock: &Stock,
    also: Vec<ItemReport>,
) -> Option<ShoppingReport> {
    let (cuts, car) = (cuts?, &job.car);
    let mut cut: Vec<(&Run, &Candidate)> = Vec::new();
    for run in solved {
        if let Wanted::Cut(best) = wanted(run, car) {
            cut.push((&run.run, best));
        }
    }
    let mut list = List::default();
    list.hoses(cuts, true);
    list.hoses(cuts, false);
    for (run, best) in &cut {
        let on_elbows = run.elbows.iter().map(|on| [&on.spigot, &on.joiner]);
        for ends in [[&run.from, &run.to]].into_iter().chain(on_elbows) {
            for choices in clamps_for_ends(ends, &best.hose, stock) {
                list.clamp(&choices, run);
            }
        }
    }
    for (run, _) in &cut {
        for on in &run.elbows {
            list.elbow(on, run);
        }
    }
    for (run, best) in &cut {
        list.over(run, best);
    }
    for item in also {
        list.add(item);
    }
    let moulded = |line: &&Line| line.decision == Some(Decision::Moulded) && car.stays(line);
    for line in car.lines.iter().filter(moulded) {
        list.moulded(line, car);
    }
    list.coolant(job);
    let places: Vec<usize> = cut.iter().map(|(run, _)| run.index).collect();
    list.open(car, &places);
    Some(ShoppingReport { items: list.0, left_out: cuts.left_out.clone() })
}

/// The list as plain text for a message, a heading for each group.
#[must_use]
pub fn shopping_text(list: &ShoppingReport) -> String {
    let mut text = String::new();
    let mut group = "";
    for item in &list.items {
        if item.group != group {
            group = &item.group;
            if !text.is_empty() {
                text.push('\n');
            }
            text.push_str(group);
            text.push('\n');
        }
        let amount = match (item.length_mm, item.unit.as_str()) {
            (Some(length), _) => format!("{} x {length} mm ({:.1} in)", item.amount, length / 25.4),
            (None, "pieces") => format!("{} x", item.amount),
            (None, unit) => format!("{:.1} {unit}", item.amount),
        };
        text.push_str(&format!("- {amount} {}", item.what));
        if item.spare > 0 {
            text.push_str(&format!(" ({} to spare)", item.spare));
        }
        if !item.serves.is_empty() {
            text.push_str(&format!(" [{}]", item.serves.join(", ")));
        }
        text.push('\n');
    }
    if !list.left_out.is_empty() {
        text.push_str(&format!("\nNothing is counted for: {}.\n", list.left_out.join(", ")));
    }
    text
}
