//! How each open end can be closed: what, how big, what pushes it off and what holds it, best first.
//!
//! An open end is a spigot of a part that stays, with no line that stays on it, that is not made closed. Fit, seat and
//! clamps are judged by `checks`, as for any hose; no standard for closing a spigot was found, so the order of the
//! options is the trade's.

mod items;
mod thread;

pub(crate) use items::to_close;

use super::said::{SaidReport, ours, trade};
use super::{Car, Part, Port, PortAt};
use crate::input::{ClosureInput as Closure, NeedsInput};
use crate::report::ClampReport;
use checks::{Bead, Check, Finding, MadeOf, MountedOn, SEAT_FOR_ONE_BAND, Spigot, Verdict, clamps_for, push_off};
use quantity::{Length, Pressure, Source};
use serde::{Deserialize, Serialize};
use shape::Vec3;
use stock::{ClampKind, Hose, Rubber, Stock};
use thread::{Seals, plug_torque, seals};

/// Between the spigot's mouth and the plug, so that neither keeps the other from its seat, mm; our choice.
const BETWEEN: f64 = 5.0;
/// Two spigots that differ by a larger part of the thinner are not looped; our choice.
const LOOPED: f64 = 0.25;
/// The band that [`SEAT_FOR_ONE_BAND`] leaves room for, mm.
const BAND_TAKEN: f64 = 9.0;

const ORDER: Source = trade(
    "common practice, forum reports agree: the stub out before a loop, a loop before a plug, a plug before a cap",
);
const CAPS: Source = trade("reports of caps that burst at heat soak, and one maker's page");
const PLUGS: Source = trade("common practice: a plug is round and smooth, as thick as the spigot, and clamped");
const BANDS: Source = trade("trade pages: two bands only where the spigot is long enough for both");
const THREADS: Source = Source::new("G and R, and NPT: other pitch or other angle", quantity::Basis::FromMemory);

/// The open ends.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct ClosuresReport {
    /// Each open end once, in the order of typing.
    pub open: Vec<OpenEndReport>,
    /// What not to use on any of them, and why; empty if none is open.
    pub not_to_use: Vec<SaidReport>,
}

/// An open end.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct OpenEndReport {
    /// The part.
    pub part: String,
    /// Its spigot.
    pub spigot: String,
    /// The line that is left out, or goes with a part, and so opens it; nothing if none was ever told.
    pub opened_by: Option<String>,
    /// Outside diameter of the spigot.
    pub spigot_mm: Option<f64>,
    /// Straight length that a hose can go on.
    pub straight_mm: Option<f64>,
    /// Straight length that one band needs.
    pub seat_needed_mm: f64,
    /// What pushes a closure off at the cap's pressure.
    pub push_off_n: Option<f64>,
    /// The ways to close it: the one decided on, then those that do, best first, then those that do not.
    pub options: Vec<ClosureReport>,
    /// What has to be known to say more.
    pub needs: Vec<String>,
}

/// One way to close an open end.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct ClosureReport {
    /// "thread plug", "loop", "hose and plug" or "cap".
    pub kind: String,
    /// Whether it was decided on.
    pub decided: bool,
    /// "pass", "warn", "fail" or "not checked".
    pub verdict: String,
    /// What is done, in a sentence.
    pub what: String,
    /// Why it comes out so.
    pub why: String,
    /// The thread of the plug.
    pub thread: Option<String>,
    /// Torque of the plug; of a metric one in iron or steel.
    pub torque_nm: Option<f64>,
    /// Torque of a metric plug in aluminium.
    pub torque_in_aluminium_nm: Option<f64>,
    /// Where the torque is from, and what that is worth.
    pub torque_source: Option<String>,
    /// The other spigot of a loop.
    pub to_spigot: Option<String>,
    /// The hose as it is asked for, and its kind.
    pub hose: Option<String>,
    /// Bore of the hose, or of the cap.
    pub bore_mm: Option<f64>,
    /// Outside diameter of the hose.
    pub outside_mm: Option<f64>,
    /// Length to cut the hose to; of a loop a run of its own tells it.
    pub hose_mm: Option<f64>,
    /// Diameter of the plug in the hose.
    pub plug_mm: Option<f64>,
    /// Least length of the plug that is in the hose.
    pub plug_long_mm: Option<f64>,
    /// Clamps: a worm drive and a spring band for each end, where there are such; one of each end's is used.
    pub clamps: Vec<ClampReport>,
    /// On whose word.
    pub source: String,
    /// What that is worth.
    pub basis: String,
}

/// How every open end can be closed, at this pressure under the cap, with clamps and hose of these tables.
#[must_use]
pub fn closures(car: &Car, cap: Option<Pressure>, stock: &Stock) -> ClosuresReport {
    let ends = open_ends(car);
    let open: Vec<_> = ends.iter().map(|at| open_end(car, *at, &ends, cap, stock)).collect();
    let not_to_use = if open.is_empty() { Vec::new() } else { not_to_use() };
    ClosuresReport { open, not_to_use }
}

/// Spigots of parts that stay, without a line that stays, that are not made closed.
pub(super) fn open_ends(car: &Car) -> Vec<PortAt> {
    let mut open = Vec::new();
    for (i, part) in car.parts.iter().enumerate().filter(|(_, part)| !part.goes) {
        for (j, port) in part.ports.iter().enumerate() {
            let at = PortAt { part: i, port: j };
            let has_line = car.lines.iter().any(|line| car.stays(line) && line.ends.contains(&at));
            if !has_line && port.closed_by != Some(Closure::Blank) {
                open.push(at);
            }
        }
    }
    open
}

fn not_to_use() -> Vec<SaidReport> {
    vec![
        SaidReport::new(
            "plain cap",
            "No plain rubber cap, as is sold for vacuum pipes: without a braid in its wall it bursts, mostly just after \
             the hot engine was switched off.",
            &CAPS,
        ),
        SaidReport::new(
            "no bare plug",
            "No screw, bolt or tapered bung in the hose: a thread cuts the lining, a taper creeps out. No plug without a \
             clamp.",
            &PLUGS,
        ),
        SaidReport::new(
            "second band",
            "No second band on a short spigot: it sits past the end and pushes the hose off.",
            &BANDS,
        ),
        SaidReport::new(
            "mixed threads",
            "No plug of another thread that seems to fit: G and R do not go with NPT. Try it by hand first: it must run in \
             freely.",
            &THREADS,
        ),
    ]
}

/// A spigot as `checks` wants it; where and which way it points is not asked there.
fn as_spigot(name: &str, diameter: Length, bead: Bead, seat: Length) -> Spigot {
    Spigot {
        name: name.to_owned(),
        diameter,
        bead,
        seat,
        mouth: Vec3::ZERO,
        points: Vec3::new(1.0, 0.0, 0.0),
        on: MountedOn::Body,
        made_of: None,
        straight: None,
        can_move: None,
        turns: None,
        elbow: None,
    }
}

/// As a caliper shows it.
fn tenth(length: Length) -> f64 {
    (length.as_mm() * 10.0).round() / 10.0
}

/// Up to whole millimetres: what is sawn and cut to.
fn whole(length: Length) -> f64 {
    length.as_mm().ceil()
}

/// The EPDM hose of the tables that goes on this spigot best, and what is found of it there.
fn hose_for<'a>(spigot: &Spigot, stock: &'a Stock) -> Option<(&'a Hose, Vec<Finding>)> {
    let mut best: Option<(Verdict, f64, &Hose, Vec<Finding>)> = None;
    for hose in stock.hoses.iter().filter(|hose| hose.rubber == Some(Rubber::Epdm)) {
        let limits = stock.bore_limits(hose.bore).map(|limits| limits.value);
        let mut found = checks::before_it_lies(spigot, spigot, hose, limits);
        // Said of the spigot twice over: from and to.
        found.truncate(found.len() / 2);
        let goes_on = found.iter().filter(|finding| finding.check != Check::Seat);
        let verdict = goes_on.map(|finding| finding.verdict).max().unwrap_or(Verdict::NotChecked);
        let off = (hose.bore - spigot.diameter).abs().as_mm();
        let better = |(known, by, ..): &(Verdict, f64, &Hose, Vec<Finding>)| (verdict, off) < (*known, *by);
        if best.as_ref().is_none_or(better) {
            best = Some((verdict, off, hose, found));
        }
    }
    best.map(|(_, _, hose, found)| (hose, found))
}

/// The first of each kind: the narrowest band.
fn clamps(end: &str, spigot: &Spigot, hose: &Hose, stock: &Stock) -> Vec<ClampReport> {
    let thousandth = |length: Length| (length.as_mm() * 1000.0).round() / 1000.0;
    let mut told: Vec<ClampReport> = Vec::new();
    for choice in clamps_for(spigot, hose, stock) {
        let (kind, follows) = match choice.clamp.kind {
            ClampKind::WormDrive => ("worm drive", false),
            ClampKind::SpringBand => ("spring band", true),
        };
        if told.iter().any(|known| known.kind == kind) {
            continue;
        }
        told.push(ClampReport {
            end: end.to_owned(),
            spigot: spigot.name.clone(),
            kind: kind.to_owned(),
            standard: choice.clamp.standard.clone().into_owned(),
            size: choice.clamp.size.clone().into_owned(),
            range_mm: [choice.clamp.least.as_mm(), choice.clamp.greatest.as_mm()],
            band_mm: [choice.clamp.band_least.as_mm(), choice.clamp.band_greatest.as_mm()],
            closes_on_mm: thousandth(choice.closes_on),
            opens_over_mm: thousandth(choice.opens_over),
            band_from_end_mm: thousandth(choice.band_from_end),
            torque_nm: choice.torque.map(|torque| torque.torque.as_nm()),
            torque_plus_minus_nm: choice.torque.map(|torque| torque.plus_minus.as_nm()),
            torque_source: choice.torque.map(|torque| cited(&torque.source)),
            again_nm: choice.again.map(|torque| torque.torque.as_nm()),
            again_plus_minus_nm: choice.again.map(|torque| torque.plus_minus.as_nm()),
            follows,
            not_smaller: choice.not_smaller,
            source: choice.clamp.source.what.clone().into_owned(),
            basis: choice.clamp.source.basis.as_str().to_owned(),
        });
    }
    told
}

fn cited(source: &Source) -> String {
    format!("{} ({})", source.what, source.basis.as_str())
}

/// What is found of a hose, or a cap, on the spigot.
struct Seated<'a> {
    hose: &'a Hose,
    spigot: Spigot,
    verdict: Verdict,
    why: String,
}

/// The best hose on the spigot; if there is none, why.
fn seated<'a>(port: &Port, name: &str, cap: Option<Pressure>, stock: &'a Stock) -> Result<Seated<'a>, String> {
    let diameter = port.diameter.ok_or("needs the outside diameter of the spigot")?;
    let seat = port.straight.unwrap_or(Length::mm(SEAT_FOR_ONE_BAND));
    let spigot = as_spigot(name, diameter, port.bead, seat);
    let goes_on = |(_, found): &(&Hose, Vec<Finding>)| {
        !found.iter().any(|finding| finding.check == Check::Fit && finding.verdict == Verdict::Fail)
    };
    let (hose, found) = hose_for(&spigot, stock).filter(goes_on).ok_or_else(|| {
        format!("no hose of the tables goes on {:.1} mm: look for one of that bore, or a little less", diameter.as_mm())
    })?;
    let short = seat.as_mm() < SEAT_FOR_ONE_BAND;
    let mut said: Vec<(Verdict, String)> =
        found.iter().map(|finding| (finding.verdict, finding.why.clone().into_owned())).collect();
    if clamps_for(&spigot, hose, stock).is_empty() {
        said.push((Verdict::Fail, "no clamp of a standard size holds it".to_owned()));
    }
    if short {
        let needed =
            format!("the spigot has {:.0} mm straight, a bead and one band need {SEAT_FOR_ONE_BAND}", seat.as_mm());
        if port.bead == Bead::Plain {
            said.push((Verdict::Fail, format!("{needed}, and there is no bead to hold it: nothing keeps it on")));
        } else {
            // How bad it is, the check of the seat has said.
            let seat = found.iter().find(|finding| finding.check == Check::Seat);
            said.insert(0, (seat.map_or(Verdict::Warn, |finding| finding.verdict), needed));
        }
    }
    if port.straight.is_none() {
        said.push((Verdict::NotChecked, "needs the straight length of the spigot".to_owned()));
    }
    if cap.is_none() {
        said.push((Verdict::NotChecked, "needs the pressure printed on the cap".to_owned()));
    }
    let held = match port.bead {
        Bead::Plain => "only the clamp holds it: form a bead on the end if you can",
        Bead::Of(_) => "a clamp behind the bead holds it",
        Bead::NotKnown => "a clamp holds it, best behind a bead",
    };
    let mut worst = (Verdict::Pass, held.to_owned());
    for one in said {
        if one.0 > worst.0 {
            worst = one;
        }
    }
    let (verdict, why) = worst;
    Ok(Seated { hose, spigot, verdict, why })
}

fn option(kind: &str, verdict: Verdict, what: String, why: impl Into<String>, source: &Source) -> ClosureReport {
    ClosureReport {
        kind: kind.to_owned(),
        verdict: verdict.name().to_owned(),
        what,
        why: why.into(),
        source: source.what.clone().into_owned(),
        basis: source.basis.as_str().to_owned(),
        ..ClosureReport::default()
    }
}

fn open_end(car: &Car, at: PortAt, open: &[PortAt], cap: Option<Pressure>, stock: &Stock) -> OpenEndReport {
    let (part, port) = (&car.parts[at.part], car.port(at));
    let name = car.port_name(at);
    let push = cap.zip(port.diameter).map(|(cap, across)| push_off(cap, across));
    let mut options: Vec<ClosureReport> = Vec::new();
    options.extend(thread_plug(port));
    if part.needs != Some(NeedsInput::No) {
        options.extend(sister(car, at, open).map(|other| a_loop(part, port, other)));
    }
    let seated = seated(port, &name, cap, stock);
    let mut over_it = [hose_and_plug(&seated, stock), capped(&seated, stock)];
    if is_weak(port) {
        for option in &mut over_it {
            option.what.push_str(" The spigot is weak: no more torque than told, and never lever on it.");
        }
    }
    options.extend(over_it);
    let decided = port.closed_by.and_then(|closure| match closure {
        Closure::ThreadPlug => Some("thread plug"),
        Closure::Cap => Some("cap"),
        Closure::HoseAndPlug => Some("hose and plug"),
        Closure::Blank => None,
    });
    let failed = |option: &ClosureReport| option.verdict == Verdict::Fail.name();
    let (bad, mut ranked): (Vec<_>, Vec<_>) = options.into_iter().partition(failed);
    ranked.extend(bad);
    if let Some(i) = ranked.iter().position(|option| Some(option.kind.as_str()) == decided) {
        let mut first = ranked.remove(i);
        first.decided = true;
        ranked.insert(0, first);
    }
    let off = |line: &&super::Line| !car.stays(line) && line.ends.contains(&at);
    OpenEndReport {
        part: part.name.clone(),
        spigot: port.name.clone(),
        opened_by: car.lines.iter().find(off).map(|line| line.name.clone()),
        spigot_mm: port.diameter.map(Length::as_mm),
        straight_mm: port.straight.map(Length::as_mm),
        seat_needed_mm: SEAT_FOR_ONE_BAND,
        push_off_n: push.map(|force| (force * 10.0).round() / 10.0),
        options: ranked,
        needs: needs(port, cap),
    }
}

fn needs(port: &Port, cap: Option<Pressure>) -> Vec<String> {
    let mut needs = Vec::new();
    let mut want = |absent: bool, what: &str| needs.extend(absent.then(|| what.to_owned()));
    want(port.diameter.is_none(), "the outside diameter of the spigot");
    want(port.straight.is_none(), "its straight length");
    want(port.bead == Bead::NotKnown, "whether it has a bead, and how thick");
    want(port.thread.is_none(), "whether it can be screwed out, and its thread");
    want(cap.is_none(), "the pressure printed on the cap");
    needs
}

/// The stub comes out and a plug goes in; without a known thread only as what was decided.
fn thread_plug(port: &Port) -> Option<ClosureReport> {
    let Some(thread) = &port.thread else {
        let what = "Screw the stub out and put a plug into its thread.".to_owned();
        let why = "needs the thread: read it off the stub with a gauge";
        let decided = port.closed_by == Some(Closure::ThreadPlug);
        return decided.then(|| option("thread plug", Verdict::NotChecked, what, why, &ORDER));
    };
    let torque = plug_torque(thread);
    let seal = match seals(thread) {
        Seals::Washer => "with a new sealing washer",
        Seals::Sealant => "with a sealant that stands coolant",
        Seals::NotKnown => "sealed as its thread asks",
    };
    let tight = match &torque {
        Some(torque) => match torque.in_aluminium {
            Some(in_aluminium) => {
                let [iron, aluminium] = [torque.torque, in_aluminium].map(quantity::Moment::as_nm);
                format!("{iron:.0} N·m in iron or steel, {aluminium:.0} N·m in aluminium")
            }
            None => format!("{:.0} N·m", torque.torque.as_nm()),
        },
        None => "no torque for this thread is in the tables".to_owned(),
    };
    let what =
        format!("Screw the stub out and put a plug {thread} in, {seal}: {tight}. The car's own manual goes first.");
    Some(ClosureReport {
        thread: Some(thread.clone()),
        torque_nm: torque.as_ref().map(|torque| torque.torque.as_nm()),
        torque_in_aluminium_nm: torque.as_ref().and_then(|torque| torque.in_aluminium).map(quantity::Moment::as_nm),
        torque_source: torque.as_ref().map(|torque| cited(&torque.source)),
        ..option("thread plug", Verdict::Pass, what, "the thread holds it: nothing can be pushed off", &ORDER)
    })
}

/// The open spigot of the same part that is nearest in size, if a hose could go on both; where a size is not known, the first.
fn sister<'a>(car: &'a Car, at: PortAt, open: &[PortAt]) -> Option<&'a Port> {
    let port = car.port(at);
    let mut nearest: Option<(f64, &Port)> = None;
    for other in
        open.iter().filter(|other| other.part == at.part && other.port != at.port).map(|other| car.port(*other))
    {
        let apart = port.diameter.zip(other.diameter).map_or(0.0, |(a, b)| (a - b).abs() / a.min(b));
        if apart <= LOOPED && nearest.is_none_or(|(known, _)| apart < known) {
            nearest = Some((apart, other));
        }
    }
    nearest.map(|(_, other)| other)
}

/// A hose to another open spigot of the same part: a suggestion, sized as a run of its own.
fn a_loop(part: &Part, port: &Port, other: &Port) -> ClosureReport {
    let differ = port.diameter.zip(other.diameter).is_some_and(|(a, b)| a != b);
    let reducer = if differ { " The two differ in size: fit a reducer, or a hose that goes on both." } else { "" };
    let what = format!(
        "Only if coolant has to go on flowing here: a hose from {} to {} of {}. Measure it as a run.{reducer}",
        port.name, other.name, part.name
    );
    ClosureReport {
        to_spigot: Some(other.name.clone()),
        ..option("loop", Verdict::NotChecked, what, "whether a hose bends so is told once it is a run", &ORDER)
    }
}

fn hose_and_plug(seated: &Result<Seated<'_>, String>, stock: &Stock) -> ClosureReport {
    let Seated { hose, spigot, verdict, why } = match seated {
        Ok(seated) => seated,
        Err(why) => {
            let what =
                "A short reinforced hose, a smooth round metal plug as thick as the spigot, two clamps.".to_owned();
            return option("hose and plug", Verdict::NotChecked, what, why.as_str(), &ORDER);
        }
    };
    // Its rounded nose has no bead that a clamp had to open over.
    let plug = as_spigot("plug", spigot.diameter, Bead::Plain, Length::mm(SEAT_FOR_ONE_BAND));
    let mut held = clamps("spigot", spigot, hose, stock);
    let on_plug = clamps("plug", &plug, hose, stock);
    // Bead, gap, band and tail: room for whichever of the clamps is taken.
    let band = on_plug.iter().map(|clamp| clamp.band_mm[1]).fold(BAND_TAKEN, f64::max);
    let plug_long = Length::mm(SEAT_FOR_ONE_BAND - BAND_TAKEN + band);
    held.extend(on_plug);
    let seat = whole(spigot.seat.min(Length::mm(SEAT_FOR_ONE_BAND)));
    let cut = seat + BETWEEN + whole(plug_long);
    let (across, long, bore) = (tenth(spigot.diameter), whole(plug_long), tenth(hose.bore));
    let what = format!(
        "{cut:.0} mm of reinforced hose of {bore} mm bore, {seat:.0} mm of it on the spigot, and in its other end a smooth \
         round metal plug, {across} mm thick and {long:.0} mm or more long, with a round nose and best with a bead. A clamp \
         on each."
    );
    ClosureReport {
        hose: Some(format!("{}, {}", hose.kind, hose.sold_as)),
        bore_mm: Some(hose.bore.as_mm()),
        outside_mm: Some(hose.outside.as_mm()),
        hose_mm: Some(cut),
        plug_mm: Some(spigot.diameter.as_mm()),
        plug_long_mm: Some(long),
        clamps: held,
        ..option(
            "hose and plug",
            *verdict,
            what,
            why.as_str(),
            &ours("plug and order: common practice; lengths: bead 5, gap 1.5, the band, tail 6 mm, and 5 mm between"),
        )
    }
}

fn capped(seated: &Result<Seated<'_>, String>, stock: &Stock) -> ClosureReport {
    let Seated { hose, spigot, verdict, why } = match seated {
        Ok(seated) => seated,
        Err(why) => {
            let what = "A reinforced blanking cap and a clamp.".to_owned();
            return option("cap", Verdict::NotChecked, what, why.as_str(), &ORDER);
        }
    };
    let bore = tenth(hose.bore);
    let what = format!(
        "A reinforced blanking cap for coolant, with a braid or weave in its wall, of {bore} mm bore, and a clamp. The size \
         of clamp told is for a wall of {:.1} mm.",
        hose.wall().as_mm()
    );
    ClosureReport {
        bore_mm: Some(hose.bore.as_mm()),
        clamps: clamps("spigot", spigot, hose, stock),
        ..option("cap", *verdict, what, why.as_str(), &ORDER)
    }
}

/// Whether a spigot is of something that breaks before the hose gives.
fn is_weak(port: &Port) -> bool {
    let made_of = port.made_of.as_deref();
    MadeOf::ALL
        .iter()
        .any(|(made, name)| made.is_weak() && made_of.is_some_and(|typed| typed.eq_ignore_ascii_case(name)))
}
