//! Along the hose: the piece unrolled on one length axis, a lane for each thing checked along it, one touched place.

use super::cut_bar::hatch;
use super::held::{Hold, holds};
use super::{figure, length, mark};
use crate::el::{El, Node, button, div, el, label, live, many, note, p, path, pattern, rect, section};
use crate::words;
use job::{CandidateReport, FindingReport, HeatStateReport};
use leptos::prelude::*;
use quantity::text::LengthUnit;
use wasm_bindgen::JsCast;
use web_sys::{Element, KeyboardEvent, MouseEvent};

/// The pictures are so wide; the hose runs from knife end to knife end between `LEFT` and `RIGHT`.
const WIDTH: f64 = 328.0;
const LEFT: f64 = 8.0;
const RIGHT: f64 = 320.0;
/// A lane is so high between its edges.
const HIGH: f64 = 76.0;
/// The skin may be so much cooler or hotter, K.
const BAND: f64 = 20.0;
/// A radius told as this or more is as good as straight (our choice).
const STRAIGHT: f64 = 1000.0;

/// A worst place that is nowhere on a hose.
const FAR: (f64, f64) = (f64::MAX, 0.0);

/// One thing checked all along the hose.
#[derive(Clone, Debug)]
struct Lane {
    /// The thing near it; empty for the bend.
    about: String,
    verdict: String,
    /// What is measured along it.
    of: Of,
    /// Places, mm from mouth A, and what is measured there: mm, or °C.
    at: Vec<f64>,
    mm: Vec<f64>,
    /// The worst place, and what is measured there.
    worst: (f64, f64),
    fail: Option<f64>,
    warn: Option<f64>,
    /// The same in other states.
    also: Vec<HeatStateReport>,
}

/// What a lane shows.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Of {
    /// The bend, to the inside; with half the outside diameter.
    Bend(f64),
    /// The gap to a thing.
    Gap,
    /// The temperature of the skin.
    Heat,
}

impl Lane {
    /// The bend, the gap to every thing near it, and the skin beside every hot one.
    fn all(best: &CandidateReport) -> Vec<Self> {
        let Some(lie) = &best.lie else { return Vec::new() };
        let of = |check: &'static str| best.findings.iter().filter(move |finding| finding.check == check);
        let verdict =
            |finding: Option<&FindingReport>| finding.map_or("not checked", |f| f.verdict.as_str()).to_owned();
        let last = (lie.bend_inside_mm.len() - 1) as f64;
        let bend = Self {
            about: String::new(),
            of: Of::Bend(best.hose.outside_mm / 2.0),
            verdict: verdict(of("kink").next()),
            at: (0..lie.bend_inside_mm.len()).map(|k| lie.free_mm * k as f64 / last).collect(),
            mm: lie.bend_inside_mm.clone(),
            worst: (lie.at_mm, lie.tightest_bend_mm),
            fail: lie.bend_fails_below_mm,
            warn: lie.bend_warns_below_mm,
            also: Vec::new(),
        };
        let gaps = lie.gaps.iter().zip(of("standoff")).map(|(gap, found)| Self {
            about: gap.about.clone(),
            of: Of::Gap,
            verdict: found.verdict.clone(),
            at: lie.gap_places_mm.clone(),
            mm: gap.gap_mm.clone(),
            worst: (found.at_mm.unwrap_or_default(), found.actual.unwrap_or_default()),
            fail: gap.fails_below_mm,
            warn: gap.warns_below_mm,
            also: Vec::new(),
        });
        let heat = lie.heat.iter().map(|heat| {
            let found = of("heat").find(|finding| finding.about == heat.about);
            let hottest = found.and_then(|found| Some((found.at_mm?, found.actual?)));
            Self {
                about: heat.about.clone(),
                of: Of::Heat,
                verdict: verdict(found),
                at: lie.gap_places_mm.clone(),
                mm: heat.skin_c.clone(),
                worst: hottest.unwrap_or_default(),
                fail: heat.fails_above_c,
                warn: heat.warns_above_c,
                also: heat.also.clone(),
            }
        });
        std::iter::once(bend).chain(gaps).chain(heat).collect()
    }

    /// How high it is drawn, what is bad low: a bend by 1/radius of the centre line, so that straight is nothing.
    fn height(&self, mm: f64) -> f64 {
        match self.of {
            Of::Bend(half) => -1.0 / (mm + half).max(1.0),
            Of::Gap => mm,
            Of::Heat => -mm,
        }
    }

    /// On which side of a limit it is bad.
    fn beyond(&self, value: f64, unit: LengthUnit) -> String {
        let figure = self.figure(value, unit);
        if self.of == Of::Heat { format!("above {figure}") } else { format!("below {figure}") }
    }

    /// A figure of the lane, with its unit, or for a scale without.
    fn figure(&self, value: f64, unit: LengthUnit) -> String {
        if self.of == Of::Heat { format!("{value:.0} °C") } else { figure(value, unit) }
    }

    fn length(&self, value: f64, unit: LengthUnit) -> String {
        if self.of == Of::Heat { format!("{value:.0} °C") } else { length(value, unit) }
    }

    /// What is measured at a place; `None` beyond the ends of the lane.
    fn read(&self, at: f64) -> Option<f64> {
        // The worst place lies between two that are told.
        if (at - self.worst.0).abs() < 0.5 {
            return Some(self.worst.1);
        }
        let i = self.at.windows(2).position(|pair| pair[0] <= at && at <= pair[1])?;
        let x = (at - self.at[i]) / (self.at[i + 1] - self.at[i]).max(1e-9);
        let height = self.height(self.mm[i]) * (1.0 - x) + self.height(self.mm[i + 1]) * x;
        Some(match self.of {
            Of::Bend(half) => -1.0 / height.min(-1e-6) - half,
            Of::Gap => height,
            Of::Heat => -height,
        })
    }

    /// Bottom and top of the lane: the limits and the worst place are in it, and what is far from both is not.
    fn range(&self) -> (f64, f64) {
        let heights = || self.mm.iter().map(|mm| self.height(*mm));
        let worst = heights().fold(self.height(self.worst.1), f64::min);
        let fail = self.fail.map_or(worst, |fail| self.height(fail));
        let top = match self.of {
            Of::Bend(_) => 0.0,
            Of::Gap => {
                let limit = self.fail.unwrap_or(0.0).max(self.warn.unwrap_or(0.0));
                let most = heights().fold(limit, f64::max);
                most.min(f64::max(60.0, 4.0 * limit).max(2.5 * worst))
            }
            // A little cooler than where it begins to warn.
            Of::Heat => heights().fold(self.warn.map_or(worst, |warn| 10.0 - warn), f64::max),
        };
        let bottom = worst.min(fail - 0.35 * (top - fail));
        let room = 0.07 * (top - bottom).max(1e-6);
        (bottom - room, top + room)
    }

    /// Whether the worst place is a clamp's, which stands out beyond the skin.
    fn at_clamp(&self) -> Option<&'static str> {
        let skin = self.at.windows(2).zip(self.mm.windows(2)).find(|(at, _)| self.worst.0 <= at[1])?.1;
        let (on_a, on_b) = (self.worst.0 < 0.0, self.at.get(self.at.len() - 6).is_some_and(|end| self.worst.0 > *end));
        let clamp = self.of == Of::Gap && (on_a || on_b) && self.worst.1 < skin[0].min(skin[1]) - 1.0;
        clamp.then_some(if on_a { ", clamp at A" } else { ", clamp at B" })
    }

    /// What is read out at a place.
    fn says(&self, at: f64, unit: LengthUnit) -> String {
        match (self.of, self.read(at)) {
            (Of::Bend(_), None) => "gripped on its spigot".to_owned(),
            (Of::Bend(_), Some(mm)) if mm >= STRAIGHT => "as good as straight".to_owned(),
            (Of::Bend(_), Some(mm)) => format!("bend {} to the inside", length(mm, unit)),
            (Of::Heat, Some(celsius)) => {
                let there =
                    |state: &HeatStateReport| Self { mm: state.skin_c.clone(), worst: FAR, ..self.clone() }.read(at);
                let also = self.also.iter().filter_map(|state| Some(format!("{} {:.0}", state.state, there(state)?)));
                let also: Vec<_> = also.collect();
                let also = if also.is_empty() { String::new() } else { format!(" ({})", also.join(", ")) };
                format!("skin at {celsius:.0} °C beside {}{also}", self.about)
            }
            (Of::Heat, None) => format!("skin beside {} not known", self.about),
            (Of::Gap, Some(mm)) if mm > 0.0 => format!("{} {} away", self.about, length(mm, unit)),
            (Of::Gap, _) => format!("{} touched", self.about),
        }
    }
}

/// The length axis: from knife end to knife end.
#[derive(Clone, Copy, Debug)]
struct Ruler {
    seat_a: f64,
    free: f64,
    seat_b: f64,
}

impl Ruler {
    fn cut(self) -> f64 {
        self.seat_a + self.free + self.seat_b
    }

    /// Where a place stands, and the place that stands there.
    fn x(self, at: f64) -> f64 {
        LEFT + (RIGHT - LEFT) * (at + self.seat_a) / self.cut()
    }

    fn at(self, x: f64) -> f64 {
        self.keep((x - LEFT) / (RIGHT - LEFT) * self.cut() - self.seat_a)
    }

    /// On the hose, to a thousandth.
    fn keep(self, at: f64) -> f64 {
        (at.clamp(-self.seat_a, self.free + self.seat_b) * 1000.0).round() / 1000.0
    }

    /// Ticks from the knife end at A, no more than some six of them and none under the last figure.
    fn ticks(self, unit: LengthUnit) -> Vec<f64> {
        let steps: [f64; 4] = match unit {
            LengthUnit::Millimetre => [20.0, 50.0, 100.0, 200.0],
            LengthUnit::Inch => [25.4, 50.8, 101.6, 203.2],
        };
        let step = steps.into_iter().find(|step| self.cut() / step <= 6.5).unwrap_or(500.0);
        (0_u32..7).map(|k| f64::from(k) * step).take_while(|mm| *mm < self.cut() * 0.89).collect()
    }
}

/// What a key does: mm nearer to B, or to an end.
fn key_moves(key: &str, step: f64) -> Option<f64> {
    match key {
        "ArrowLeft" | "ArrowDown" => Some(-step),
        "ArrowRight" | "ArrowUp" => Some(step),
        "PageDown" => Some(-5.0 * step),
        "PageUp" => Some(5.0 * step),
        "Home" => Some(f64::NEG_INFINITY),
        "End" => Some(f64::INFINITY),
        _ => None,
    }
}

/// What a button does.
#[derive(Clone, Copy, Debug)]
enum Go {
    By(f64),
    To(f64),
}

/// The lanes of the best hose, with the place that is touched.
pub(crate) fn along_the_hose(
    best: &CandidateReport,
    // The place touched, mm of free length from mouth A.
    touched: RwSignal<Option<f64>>,
    unit: LengthUnit,
) -> Option<El> {
    let lie = best.lie.as_ref()?;
    let ruler = Ruler { seat_a: best.marks.mouth_a_mm, free: lie.free_mm, seat_b: best.cut_mm - best.marks.mouth_b_mm };
    let tightest = lie.at_mm;
    let step = match unit {
        LengthUnit::Millimetre => 10.0,
        LengthUnit::Inch => 12.7,
    };
    let lanes = Lane::all(best);
    let mut buttons = vec![("Nearer A".to_owned(), Go::By(-step)), ("Nearer B".to_owned(), Go::By(step))];
    buttons.extend(lanes.iter().map(|lane| {
        let name = match lane.of {
            Of::Bend(_) => "Tightest bend".to_owned(),
            Of::Gap => format!("Nearest to {}", lane.about),
            Of::Heat => format!("Hottest beside {}", lane.about),
        };
        (name, Go::To(lane.worst.0))
    }));
    let holds = holds(lie);
    buttons.extend(holds.iter().map(|hold| (hold.name.clone(), Go::To(hold.middle()))));
    let pictures: Vec<_> = lanes.iter().map(|lane| picture(lane, ruler, unit)).collect();
    // Until a place is touched the drawings mark the tightest bend.
    let here = move || ruler.keep(touched.get().unwrap_or(tightest));
    let go = move |go: Go| {
        touched.set(Some(ruler.keep(match go {
            Go::By(mm) => here() + mm,
            Go::To(at) => at,
        })));
    };
    let from_end = move || format!("{} from the knife end at A", length(here() + ruler.seat_a, unit));
    let sentence = move || {
        if touched.get().is_none() {
            return words::TOUCH.to_owned();
        }
        let said: Vec<String> = lanes.iter().map(|lane| lane.says(here(), unit)).collect();
        format!("{}: {}.", from_end(), said.join(", "))
    };
    let touch = move |event: &MouseEvent| {
        let Some(frame) = event.current_target() else { return };
        let edges = frame.unchecked_into::<Element>().get_bounding_client_rect();
        go(Go::To(ruler.at((f64::from(event.client_x()) - edges.left()) / edges.width().max(1.0) * WIDTH)));
    };
    let keys = move |event: &KeyboardEvent| {
        if let Some(mm) = key_moves(&event.key(), step) {
            event.prevent_default();
            go(Go::By(mm));
        }
    };
    let finger = el("i")
        .live("class", move || if touched.get().is_none() { "touch off" } else { "touch" })
        .live_style("left", move || format!("{:.2}%", 100.0 * ruler.x(here()) / WIDTH));
    let lanes = div("lanes")
        .attrs([("role", "slider"), ("tabindex", "0"), ("aria-label", "Place along the hose"), ("aria-valuemin", "0")])
        .attr("aria-valuemax", format!("{:.0}", ruler.cut()))
        .live("aria-valuenow", move || format!("{:.0}", here() + ruler.seat_a))
        .live("aria-valuetext", from_end)
        .on("click", touch)
        .on("pointermove", move |event: &MouseEvent| {
            if event.buttons() == 1 {
                touch(event);
            }
        })
        .on("keydown", keys)
        .put(finger)
        .put(strip(ruler, &holds))
        .put(pictures)
        .put(axis(ruler, unit));
    Some(
        section(words::ALONG)
            .put(lanes)
            .put(p("note here", live(sentence)).attr("role", "status"))
            .put(div("row").put_all(buttons.into_iter().map(|(name, to)| button("bt", name, move || go(to)))))
            .put(note(words::LANES)),
    )
}

fn svg(view_box: &'static str, parts: Vec<El>) -> El {
    el("svg").class("pic bare").attr("viewBox", view_box).put(parts)
}

fn line(d: String, class: &'static str) -> El {
    path(class, d)
}

fn filled(d: String, fill: &'static str) -> El {
    el("path").attr("d", d).attr("fill", fill)
}

fn text(x: f64, y: f64, class: &'static str, words: String) -> El {
    label(class, (x, y), words)
}

/// The piece unrolled, with the seats dotted.
fn strip(ruler: Ruler, holds: &[Hold]) -> El {
    let (a, b) = (ruler.x(0.0), ruler.x(ruler.free));
    let all = format!("M{LEFT} 5H{RIGHT}V25H{LEFT}Z");
    let dot = el("circle").attrs([("cx", "1.5"), ("cy", "1.5"), ("r", "1"), ("class", "fi")]);
    let patterns = el("defs").put(pattern("along-seat", "5", dot)).put(hatch("along-not"));
    // A band is what holds it, a thick line below it where it rests.
    let held = holds.iter().map(|hold| {
        let (x0, x1) = (ruler.x(hold.from), ruler.x(hold.to));
        if hold.rests { rect(x0 - 6.0, 23.0, x1 - x0 + 12.0, 5.0) } else { rect(x0 - 3.0, 1.0, 6.0, 28.0) }.class("fi")
    });
    svg(
        "0 0 328 30",
        vec![
            patterns,
            line(all.clone(), "fp"),
            filled(format!("M{LEFT} 5H{a:.1}V25H{LEFT}ZM{b:.1} 5H{RIGHT}V25H{b:.1}Z"), "url(#along-seat)"),
            line(format!("M{a:.1} 15H{b:.1}"), "c"),
            line(all, "o"),
            line(format!("M{a:.1} 2V28M{b:.1} 2V28"), "d"),
            text(a + 5.0, 20.0, "b", "A".to_owned()),
            text(b - 5.0, 20.0, "b e", "B".to_owned()),
        ],
    )
    .put_all(held)
}

/// One lane: its head, and its curve over what is not allowed.
fn picture(lane: &Lane, ruler: Ruler, unit: LengthUnit) -> Node {
    let (bottom, top) = lane.range();
    let y = |height: f64| 1.0 + HIGH * (1.0 - (height - bottom) / (top - bottom));
    let curve: Vec<String> = lane
        .at
        .iter()
        .zip(&lane.mm)
        .map(|(at, mm)| format!("{:.1} {:.1}", ruler.x(*at), y(lane.height(*mm)).max(-40.0)))
        .collect();
    // The words stand where the curve is high.
    let lowest = |from: f64, to: f64| {
        let on = lane.at.iter().zip(&lane.mm).filter(|(at, _)| (from..=to).contains(&(**at / ruler.free)));
        on.map(|(_, mm)| lane.height(*mm)).fold(f64::INFINITY, f64::min)
    };
    let (side, x) = if lowest(0.0, 0.4) >= lowest(0.6, 1.0) { ("", LEFT + 6.0) } else { ("e", RIGHT - 6.0) };
    let edge = HIGH + 1.0;
    let frame = format!("M{LEFT} 1H{RIGHT}V{edge}H{LEFT}Z");
    let mut parts = vec![line(frame.clone(), "fp")];
    if let Some(mm) = lane.fail {
        let y = y(lane.height(mm));
        parts.push(filled(format!("M{LEFT} {y:.1}H{RIGHT}V{edge}H{LEFT}Z"), "url(#along-not)"));
        parts.push(line(format!("M{LEFT} {y:.1}H{RIGHT}"), "ob"));
        parts.push(text(x, HIGH - 4.0, side, not_here(lane, mm, unit)));
    }
    let milder = |warn: &f64| lane.fail.is_none_or(|fail| lane.height(*warn) > lane.height(fail));
    if let Some(mm) = lane.warn.filter(milder) {
        let y = y(lane.height(mm));
        parts.push(line(format!("M{LEFT} {y:.1}H{RIGHT}"), "ob dash"));
        parts.push(text(x, y - 5.0, side, format!("{}: take care", lane.beyond(mm, unit))));
    }
    let (cx, cy) = (ruler.x(lane.worst.0), y(lane.height(lane.worst.1)));
    let curve = line(format!("M{}", curve.join("L")), "o");
    // How far off the temperature may be, either way.
    let off = |by: f64| {
        let points = lane.at.iter().zip(&lane.mm);
        let points: Vec<_> =
            points.map(|(at, c)| format!("{:.1} {:.1}", ruler.x(*at), y(lane.height(c + by)))).collect();
        line(format!("M{}", points.join("L")), "c")
    };
    let band = (lane.of == Of::Heat).then(|| [off(-BAND), off(BAND)]);
    // What it would be in other states: as thin broken lines, with their hottest below.
    let thin = lane.also.iter().map(|state| {
        let points = lane.at.iter().zip(&state.skin_c);
        let points: Vec<_> = points.map(|(at, c)| format!("{:.1} {:.1}", ruler.x(*at), y(lane.height(*c)))).collect();
        line(format!("M{}", points.join("L")), "c dash")
    });
    let cut_off = el("svg").attrs([("x", "0"), ("y", "1"), ("width", "328"), ("viewBox", "0 1 328 76")]);
    parts.push(cut_off.attr("height", HIGH).put(curve).put_all(band.into_iter().flatten()).put_all(thin));
    parts.push(line(format!("M{:.1} {cy:.1}a5.5 5.5 0 1 1 0 .01z", cx - 5.5), "ob"));
    parts.push(line(frame, "d"));
    let (title, most) = match lane.of {
        Of::Bend(_) => ("Bend to the inside".to_owned(), "least"),
        Of::Gap => (format!("Gap to {}", lane.about), "least"),
        Of::Heat => (format!("Skin by {}", lane.about), "hottest"),
    };
    let least = format!("{most} {}{}", lane.length(lane.worst.1, unit), lane.at_clamp().unwrap_or_default());
    let head = el("p").put(el("span").put(title)).put(el("span").put(least).put(" ").put(mark(&lane.verdict)));
    let hottest = |state: &HeatStateReport| {
        let most = state.skin_c.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        format!("{} {most:.0}", state.state)
    };
    let also: Vec<_> = lane.also.iter().map(hottest).collect();
    let also = (!also.is_empty()).then(|| note(format!("Broken lines: {} °C at the hottest.", also.join(", "))));
    many![head, svg("0 0 328 78", parts), also]
}

/// The words in the hatch.
fn not_here(lane: &Lane, mm: f64, unit: LengthUnit) -> String {
    let is = match lane.of {
        Of::Bend(_) => "too tight",
        Of::Gap if mm > 0.0 => "too near",
        Of::Gap => return "touches".to_owned(),
        Of::Heat => "too hot",
    };
    format!("{}: {is}", lane.beyond(mm, unit))
}

fn axis(ruler: Ruler, unit: LengthUnit) -> El {
    let mut parts = Vec::new();
    let mut tick = |mm: f64, class: &'static str, shift: f64| {
        let x = ruler.x(mm - ruler.seat_a);
        parts.push(line(format!("M{x:.1} 0V6"), "d"));
        parts.push(text(x + shift, 19.0, class, figure(mm, unit)));
    };
    for mm in ruler.ticks(unit) {
        tick(mm, "q mi", 0.0);
    }
    tick(ruler.cut(), "b e", WIDTH - RIGHT);
    svg("0 0 328 22", parts)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ruler() -> Ruler {
        Ruler { seat_a: 30.0, free: 425.0, seat_b: 30.0 }
    }

    fn bend(mm: Vec<f64>, worst: (f64, f64)) -> Lane {
        let last = (mm.len() - 1) as f64;
        Lane {
            about: String::new(),
            verdict: "pass".to_owned(),
            at: (0..mm.len()).map(|k| 425.0 * k as f64 / last).collect(),
            mm,
            worst,
            fail: Some(48.0),
            warn: Some(80.0),
            of: Of::Bend(12.0),
            also: Vec::new(),
        }
    }

    #[test]
    fn a_touch_on_the_axis_is_the_place_that_stands_there_and_stays_on_the_hose() {
        let ruler = ruler();
        assert!((ruler.x(-30.0) - LEFT).abs() < 1e-9 && (ruler.x(455.0) - RIGHT).abs() < 1e-9);
        for at in [-30.0, 0.0, 123.0, 455.0] {
            assert!((ruler.at(ruler.x(at)) - at).abs() < 1e-3, "{at}");
        }
        assert!((ruler.at(0.0) + 30.0).abs() < 1e-9 && (ruler.at(WIDTH) - 455.0).abs() < 1e-9);
        assert_eq!(ruler.ticks(LengthUnit::Millimetre), [0.0, 100.0, 200.0, 300.0, 400.0]);
    }

    #[test]
    fn tight_is_low_and_between_two_places_the_curvature_is_shared_out() {
        let lane = bend(vec![88.0, 188.0, 2000.0], (0.0, 88.0));
        let heights: Vec<f64> = lane.mm.iter().map(|mm| lane.height(*mm)).collect();
        assert!(heights[0] < heights[1] && heights[1] < heights[2] && heights[2] < 0.0, "{heights:?}");
        // By hand: half way between the centre radii 100 and 200 the curvature is 0.0075: radius 133.3, inside 121.3.
        let read = lane.read(425.0 / 4.0).expect("on the hose");
        assert!((read - (400.0 / 3.0 - 12.0)).abs() < 1e-9, "{read}");
        assert_eq!(lane.read(-5.0), None, "a seat is gripped");
        assert_eq!(lane.read(0.3), Some(88.0), "near the worst place, its own figure");
    }

    #[test]
    fn limits_and_worst_place_are_always_in_the_lane() {
        for (worst, mm) in [(20.0, vec![20.0, 100.0, 700.0]), (600.0, vec![600.0, 900.0, 2000.0])] {
            let lane = bend(mm.clone(), (0.0, worst));
            let gap = Lane { of: Of::Gap, fail: Some(0.0), warn: Some(12.0), ..bend(mm, (0.0, worst - 50.0)) };
            let heat =
                Lane { of: Of::Heat, fail: Some(125.0), warn: Some(105.0), ..bend(vec![96.0, 110.0], (0.0, 110.0)) };
            for lane in [lane, gap, heat] {
                let (bottom, top) = lane.range();
                for mm in [lane.worst.1, lane.fail.expect("set"), lane.warn.expect("set")] {
                    let height = lane.height(mm);
                    assert!(bottom < height && height < top, "{mm} in {bottom} to {top}: {lane:?}");
                }
            }
        }
    }

    #[test]
    fn a_place_is_read_out_in_words() {
        let lane = bend(vec![88.0, 188.0, 2000.0], (0.0, 88.0));
        assert_eq!(lane.says(0.0, LengthUnit::Millimetre), "bend 88 mm to the inside");
        assert_eq!(lane.says(425.0, LengthUnit::Millimetre), "as good as straight");
        assert_eq!(lane.says(440.0, LengthUnit::Millimetre), "gripped on its spigot");
        let gap = Lane { about: "rod".to_owned(), of: Of::Gap, ..bend(vec![40.0, 20.0, -2.0], (425.0, -2.0)) };
        assert_eq!(gap.says(212.5, LengthUnit::Millimetre), "rod 20 mm away");
        assert_eq!(gap.says(425.0, LengthUnit::Millimetre), "rod touched");
        let heat = Lane { about: "rod".to_owned(), of: Of::Heat, ..bend(vec![96.0, 130.0, 100.0], (212.5, 130.0)) };
        assert_eq!(heat.says(106.25, LengthUnit::Millimetre), "skin at 113 °C beside rod");
        let sleeved = HeatStateReport { state: "under a new sleeve".to_owned(), skin_c: vec![90.0, 100.0, 95.0] };
        let heat = Lane { also: vec![sleeved], ..heat };
        assert_eq!(heat.says(212.5, LengthUnit::Millimetre), "skin at 130 °C beside rod (under a new sleeve 100)");
    }
}
