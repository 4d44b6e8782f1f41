//! How far the hose must keep off a hot thing for its skin to bear it.

use super::balance::{self, Beside, Cover, Seen, air_near, film_thickness, shield};
use super::{FAR, OTHERS, View, bay, bound, known, skin_from, view};
use crate::{Laid, Neighbour};
use quantity::Length;

/// Steps in search of such a gap, and how near they must come, mm; it takes some six.
const STEPS: usize = 100;
const CLOSE: f64 = 0.002;
/// The gap in front of the middle of a hot thing at which the skin is just so hot, mm: nearer it is hotter. Nothing if it is
/// so hot at any distance, or nowhere.
pub(super) fn gap_for(laid: &Laid<'_>, thing: &Neighbour, hot: f64, cover: Cover, limit: f64) -> Option<f64> {
    let bay = bay(laid);
    let thick = film_thickness(hot, bay.air, view::thickness(&thing.form));
    let off = thing.shield.map(Length::as_mm);
    let mut like = None;
    let mut at = |gap: f64| {
        let gap = gap - cover.thick();
        let mut one = |seen: Seen, air: f64, gap: f64| {
            let beside = Beside {
                celsius: seen.celsius,
                emissivity: seen.emissivity,
                part: seen.part.min(1.0 - 1e-9),
                gap: gap.max(0.0),
                film: thick,
            };
            let nothing = Seen { part: 0.0, ..seen };
            let mut all = [nothing; OTHERS + 1];
            all[0] = seen;
            let view = View { seen: all, count: 1, air, beside, others: Vec::new() };
            skin_from(laid, &view, cover, laid.flow_can_stop, &mut like).0
        };
        let part = view::in_front(&thing.form, gap.max(0.0)).min(1.0);
        let bare =
            one(Seen { celsius: hot, emissivity: balance::HOT_FACE, part }, air_near(hot, bay.air, gap, thick), gap);
        off.map_or(bare, |off| {
            let celsius = shield(hot, view::in_front(&thing.form, off), balance::SHIELD_FACE, bay.air);
            let behind = one(Seen { celsius, emissivity: balance::SHIELD_FACE, part: 1.0 }, bay.air, gap - off);
            bare.min(behind)
        })
    };
    let mut over = |gap: f64| at(gap) - limit;
    let (mut near, mut far) = (cover.thick(), FAR);
    let (mut hotter, mut cooler) = (over(near), over(far));
    if hotter <= 0.0 || cooler > 0.0 {
        return None;
    }
    // False position over 1/(r + gap), in which the view of a pipe is straight; an end that stays twice is believed less by as
    // much as the other end moved (Anderson and Björck), and every fourth step halves, for close to the thing there is the
    // film of hot air, too.
    let radius = 0.5 * view::thickness(&thing.form);
    let seen = |gap: f64| 1.0 / (radius + gap);
    let (mut before, mut was_hot) = (f64::INFINITY, None);
    for step in 0..STEPS {
        let part = if step % 4 == 3 { 0.5 } else { hotter / (hotter - cooler) };
        let middle = 1.0 / (seen(near) + (seen(far) - seen(near)) * part) - radius;
        let here = over(middle);
        if far - near < CLOSE || (middle - before).abs() < CLOSE {
            return Some(middle);
        }
        before = middle;
        let believed = |end: f64| if 1.0 - here / end > 0.0 { 1.0 - here / end } else { 0.5 };
        let hot = here > 0.0;
        if was_hot == Some(hot) {
            if hot {
                cooler *= believed(hotter);
            } else {
                hotter *= believed(cooler);
            }
        }
        was_hot = Some(hot);
        if hot {
            (near, hotter) = (middle, here);
        } else {
            (far, cooler) = (middle, here);
        }
    }
    None
}

/// For every thing near the run, how near the skin may come before it gets too hot, mm; nothing where no gap does that.
/// Solved once for a hose, so that thousands of lies can be asked by their gaps alone.
#[must_use]
pub fn too_near(laid: &Laid<'_>) -> Vec<Option<f64>> {
    let limit = bound(laid.hose).fail;
    let of = |thing: &Neighbour| gap_for(laid, thing, known(thing)?, laid.cover, limit?);
    laid.neighbours.iter().map(of).collect()
}
