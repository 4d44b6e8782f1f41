//! The turnable view: the run on a canvas, seen from wherever one likes, with the pens of the flat views.

use super::length;
use super::place::{across, along, place};
use super::projection::Point;
use super::scene::{Gaze, Kind, Part, SQUARE, Scene};
use crate::el::{El, afterwards, button, div, el, keep, live, note, p, section};
use crate::form::stand::Stand;
use crate::language;
use crate::words;
use gloo_events::EventListener;
use job::CandidateReport;
use job::input::RunInput;
use js_sys::Array;
use leptos::prelude::*;
use quantity::text::LengthUnit;
use std::cell::Cell;
use std::rc::Rc;
use wasm_bindgen::prelude::*;
use web_sys::{
    CanvasRenderingContext2d, HtmlCanvasElement, IntersectionObserver, IntersectionObserverEntry,
    IntersectionObserverInit, MouseEvent,
};

/// Degrees a button turns, and a drag turns a pixel.
const STEP: f64 = 15.0;
const A_PIXEL: f64 = 0.5;

/// What the buttons do: more from the right, and higher; the last goes back to where the person stands.
const BUTTONS: [(&str, Option<(f64, f64)>); 5] = [
    ("More from the left", Some((-STEP, 0.0))),
    ("More from the right", Some((STEP, 0.0))),
    ("Higher", Some((0.0, STEP))),
    ("Lower", Some((0.0, -STEP))),
    ("As I stand", None),
];

/// The turnable view of a run.
pub(crate) fn turn_it(
    run: RunInput,
    best: &CandidateReport,
    // From where one looks.
    gaze: RwSignal<Gaze>,
    // The place touched, mm of free length from mouth A.
    touched: RwSignal<Option<f64>>,
    unit: LengthUnit,
) -> Option<El> {
    let lie = best.lie.clone()?;
    let stand = run.stood.as_deref().map(Stand::from_word).unwrap_or_default();
    let canvas = RwSignal::new_local(None::<HtmlCanvasElement>);
    // Drawn only once it comes within half a screen (our choice: drawn before a thumb has brought it there).
    let is_near = RwSignal::new(false);
    let look: Closure<dyn Fn(Array)> = Closure::new(move |seen: Array| {
        let is_there = |entry: JsValue| entry.unchecked_ref::<IntersectionObserverEntry>().is_intersecting();
        is_near.set(seen.iter().any(is_there));
    });
    let ahead = IntersectionObserverInit::new();
    ahead.set_root_margin("50% 0px");
    let watch = IntersectionObserver::new_with_options(look.as_ref().unchecked_ref(), &ahead).ok()?;
    // The size of the window, the pixels of the screen and the colours can change under the picture.
    let changed = RwSignal::new(());
    let mut ears = vec![EventListener::new(&window(), "resize", move |_| changed.set(()))];
    for question in ["(prefers-color-scheme: dark)", "(forced-colors: active)"] {
        if let Ok(Some(list)) = window().match_media(question) {
            ears.push(EventListener::new(&list, "change", move |_| changed.set(())));
        }
    }
    keep(ears);

    let says = format!(
        ": the hose from {} to {}{}.",
        run.from.name.as_deref().unwrap_or("A"),
        run.to.name.as_deref().unwrap_or("B"),
        run.neighbours.iter().map(|n| format!(", {}", n.name.as_deref().unwrap_or_default())).collect::<String>(),
    );
    let scene = Rc::new(Scene::of(&run, &lie, best.hose.outside_mm));
    let to_draw = Rc::new(Cell::new(None));
    afterwards(move || {
        changed.get();
        let Some(canvas) = canvas.get().filter(|_| is_near.get()) else { return };
        // Until a place is touched the tightest bend is marked.
        let stroke = place(&run, &lie, touched.get().unwrap_or(lie.at_mm));
        // Once a frame, when the page is laid out: the size of the canvas is read.
        if to_draw.replace(Some((gaze.get(), stroke))).is_none() {
            let (to_draw, scene) = (Rc::clone(&to_draw), Rc::clone(&scene));
            request_animation_frame(move || {
                if let Some((gaze, stroke)) = to_draw.take()
                    && let Some(pens) = Pens::take(&canvas, &scene, gaze)
                {
                    pens.draw(stroke);
                }
            });
        }
    });
    // Where the finger was last.
    let last = StoredValue::new((0, 0));
    let picture = el("canvas")
        .attrs([("class", "pic turn"), ("role", "img")])
        .live("aria-label", move || format!("{}{says}", gaze.get().words()))
        .made(move |made| {
            canvas.set(made.dyn_ref().cloned());
            watch.observe(made);
            keep((Watch(watch), look));
        })
        .on("pointerdown", move |event: &MouseEvent| last.set_value((event.client_x(), event.client_y())))
        .on("pointermove", move |event: &MouseEvent| {
            if event.buttons() == 1 {
                let (now, (x, y)) = ((event.client_x(), event.client_y()), last.get_value());
                last.set_value(now);
                let [right, down] = [now.0 - x, now.1 - y].map(|pixels| f64::from(pixels) * A_PIXEL);
                gaze.update(|gaze| *gaze = gaze.moved(-right, down));
            }
        });
    let turn = move |by: Option<(f64, f64)>| {
        gaze.update(|gaze| *gaze = by.map_or_else(|| Gaze::standing(stand), |(right, up)| gaze.moved(right, up)));
    };
    let from = live(move || gaze.get().words());
    let squares = format!(
        "A drag turns it, too. The squares lie level under the hose, {} each; the dots on them are straight below it.",
        length(SQUARE, unit)
    );
    Some(
        section(words::TURN)
            .put(picture)
            .put(p("from", from).put(".").attr("role", "status"))
            .put(div("row").put_all(BUTTONS.map(|(name, by)| button("bt", name, move || turn(by)))))
            .put(note(squares)),
    )
}

/// Ends with the part of the page that is watched.
struct Watch(IntersectionObserver);

impl Drop for Watch {
    fn drop(&mut self) {
        self.0.disconnect();
        // By the specification (Intersection Observer, W3C) what was seen before is still told after that, unless it is taken.
        self.0.take_records();
    }
}

/// What is drawn with: the canvas, the colours of the page, and the way from the car to the paper.
struct Pens<'a> {
    to: CanvasRenderingContext2d,
    scene: &'a Scene,
    gaze: Gaze,
    /// Pixels to a millimetre, and where the middle of the scene comes.
    scale: f64,
    shift: (f64, f64),
    size: (f64, f64),
    ink: String,
    sheet: String,
    rule: String,
    mark: String,
    font: String,
}

impl<'a> Pens<'a> {
    /// Sizes the canvas to the screen's own pixels and wipes it.
    fn take(canvas: &HtmlCanvasElement, scene: &'a Scene, gaze: Gaze) -> Option<Self> {
        let dots = window().device_pixel_ratio().max(1.0);
        let (width, height) = (f64::from(canvas.client_width()), f64::from(canvas.client_height()));
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "sizes of a screen")]
        let [across, down] = [width, height].map(|length| (length * dots).round() as u32);
        // Setting a size wipes the canvas and all that was set on it.
        canvas.set_width(across);
        canvas.set_height(down);
        let to = canvas.get_context("2d").ok()??.dyn_into::<CanvasRenderingContext2d>().ok()?;
        to.scale(dots, dots).ok()?;
        to.set_line_join("round");
        let style = window().get_computed_style(canvas).ok()??;
        let read = |name: &str| style.get_property_value(name).unwrap_or_default();
        let scale = 0.5 * width.min(height) / scene.reach;
        let (x, y, _) = gaze.flat(scene.centre);
        Some(Self {
            to,
            scene,
            gaze,
            scale,
            shift: (width / 2.0 - x * scale, height / 2.0 - y * scale),
            size: (width, height),
            ink: read("--ink"),
            sheet: read("--sheet"),
            rule: read("--rule"),
            mark: read("--mark"),
            font: read("font-family"),
        })
    }

    fn xy(&self, p: Point) -> (f64, f64) {
        let (x, y, _) = self.gaze.flat(p);
        (x * self.scale + self.shift.0, y * self.scale + self.shift.1)
    }

    fn line(&self, points: &[(f64, f64)], width: f64, colour: &str, round: bool) {
        self.to.set_line_cap(if round { "round" } else { "butt" });
        self.to.set_line_width(width.max(0.5));
        self.to.set_stroke_style_str(colour);
        self.to.begin_path();
        for (x, y) in points {
            self.to.line_to(*x, *y);
        }
        self.to.stroke();
    }

    fn dot(&self, (x, y): (f64, f64), radius: f64) {
        self.line(&[(x, y), (x, y + 0.01)], 2.0 * radius, &self.ink, true);
    }

    /// A filled outline; an ellipse, turned.
    fn ellipse(&self, (x, y): (f64, f64), radii: (f64, f64), turned: f64) {
        self.to.begin_path();
        if self.to.ellipse(x, y, radii.0, radii.1, turned, 0.0, std::f64::consts::TAU).is_ok() {
            self.to.set_fill_style_str(&self.sheet);
            self.to.fill();
            self.to.set_line_width(2.4);
            self.to.set_stroke_style_str(&self.ink);
            self.to.stroke();
        }
    }

    fn draw(&self, stroke: (Point, Point)) {
        for line in &self.scene.floor {
            self.line(&line.map(|p| self.xy(p)), 1.0, &self.rule, false);
        }
        for line in &self.scene.drops {
            self.line(&line.map(|p| self.xy(p)), 1.0, &self.ink, false);
        }
        for p in &self.scene.shadow {
            self.dot(self.xy(*p), 1.1);
        }
        let flat: Vec<Vec<(f64, f64)>> =
            self.scene.tubes.iter().map(|tube| tube.line.iter().map(|p| self.xy(*p)).collect()).collect();
        let stroke = self.stroke(stroke);
        for part in self.scene.in_order(self.gaze) {
            match part {
                Part::Piece { tube, piece } => self.piece(tube, &flat[tube], piece, stroke),
                Part::Disc { at, way, radius } => {
                    let (a, b) = (self.xy(at), self.xy(along(at, way, 1.0)));
                    let (dx, dy) = ((b.0 - a.0) / self.scale, (b.1 - a.1) / self.scale);
                    let flatness = (1.0 - dx * dx - dy * dy).max(0.0).sqrt();
                    let radius = radius * self.scale - 1.2;
                    self.ellipse(a, (radius * flatness, radius), libm::atan2(dy, dx));
                }
                Part::Ball { at, radius } => {
                    let radius = radius * self.scale - 0.8;
                    self.ellipse(self.xy(at), (radius, radius), 0.0);
                }
                Part::Tile { corners, edge } => {
                    let corners = corners.map(|p| self.xy(p));
                    self.line(&corners, 1.0, &self.sheet, false);
                    self.to.close_path();
                    self.to.set_fill_style_str(&self.sheet);
                    self.to.fill();
                    for k in (0..4).filter(|k| edge[*k]) {
                        self.line(&[corners[k], corners[(k + 1) % 4]], 1.8, &self.ink, true);
                    }
                }
            }
        }
        self.names();
    }

    /// The stroke across the hose, and the point of the hose's line nearest to it.
    fn stroke(&self, (at, way): (Point, Point)) -> (usize, [(f64, f64); 2]) {
        let hose = &self.scene.tubes[0];
        let far = |p: &Point| (0..3).map(|i| (p[i] - at[i]) * (p[i] - at[i])).sum::<f64>();
        let near = (0..hose.line.len()).min_by(|i, j| far(&hose.line[*i]).total_cmp(&far(&hose.line[*j])));
        let ends = [at, along(at, way, 1.0)].map(|p| self.xy(p));
        (near.unwrap_or_default(), across(ends, (hose.radius + 6.0) * self.scale))
    }

    /// One piece of a tube: a halo, its ink, the pale core as far as the ink could have covered it, and what is on that.
    fn piece(&self, tube: usize, flat: &[(f64, f64)], piece: usize, stroke: (usize, [(f64, f64); 2])) {
        let of = &self.scene.tubes[tube];
        let last = flat.len() - 1;
        let wide = 2.0 * of.radius * self.scale;
        let gripped = of.kind == Kind::Hose && (piece < self.scene.gripped || piece + self.scene.gripped >= last);
        let round = of.kind == Kind::Rod || (of.kind == Kind::Hose && !gripped);
        let (from, to) = of.core(flat, piece, 0.5 * wide + 3.0);
        // Round ends hide the joints; flat ones overlap instead.
        let ink = if round { &flat[piece..=piece + 1] } else { &flat[piece.saturating_sub(1)..=(piece + 2).min(last)] };
        if of.kind == Kind::Hose {
            self.line(&flat[piece..=piece + 1], wide + 8.0, &self.sheet, false);
        }
        self.line(ink, wide, &self.ink, round);
        let rim = if of.kind == Kind::Hose { 5.0 } else { 3.4 };
        self.line(&flat[from..=to], wide - rim, &self.sheet, of.kind == Kind::Rod);
        if of.kind != Kind::Hose {
            return;
        }
        for k in from..to {
            if k < self.scene.gripped || k + self.scene.gripped >= last {
                let (a, b) = (flat[k], flat[k + 1]);
                self.dot((0.5 * (a.0 + b.0), 0.5 * (a.1 + b.1)), 1.4);
            } else if !matches!((k - self.scene.gripped) % 6, 3 | 5) {
                // The centre line: long, gap, short, gap.
                self.line(&flat[k..=k + 1], 0.9, &self.ink, false);
            }
        }
        if (from..=to).contains(&stroke.0) {
            self.line(&stroke.1, 2.8, &self.mark, true);
        }
    }

    /// Names stand over everything, within the picture.
    fn names(&self) {
        self.to.set_text_align("center");
        self.to.set_stroke_style_str(&self.sheet);
        self.to.set_fill_style_str(&self.ink);
        self.to.set_line_width(4.0);
        for (ends, name) in &self.scene.names {
            let (a, b) = (self.xy(ends[0]), self.xy(ends[1]));
            let (x, y) = if a.1 < b.1 { a } else { b };
            let ((size, weight), side) = match name.len() {
                1 => ((17.0, "700"), 10.0),
                _ => ((13.0, "400"), 48.0),
            };
            self.to.set_font(&format!("{weight} {size}px {}", self.font));
            // No `clamp`: a picture that is not laid out yet is smaller than a name.
            let (x, y) = (x.min(self.size.0 - side).max(side), y.min(self.size.1 - 8.0).max(16.0) + size / 3.0);
            // Text that cannot be drawn is in the picture's own name.
            let name = language::say(name);
            let _ = self.to.stroke_text(&name, x, y);
            let _ = self.to.fill_text(&name, x, y);
        }
    }
}
