//! The quadratic form of one element of a hose in contact: what is added to it, and how turns are eliminated from it.
//!
//! The symbols are those at the head of [`contact`](super::contact).

#![expect(clippy::doc_markdown, reason = "the symbols of the formulas are not code")]

use crate::Vec3;

/// The form of an element, row by row: turns of m, of b, of a, then the shift δr_a. Its columns are the turns, the linear
/// terms l and L for δλ, and the shift. Only what is right of the diagonal counts.
pub(crate) type Form = [Row; MOVED - 1];
pub(crate) type Row = [f64; MOVED + 3];
pub(crate) const LINEAR: usize = 6;
pub(crate) const MOVED: usize = 10;

/// S and A H⁻¹ Bᵀg.
#[derive(Default)]
pub(crate) struct Sum {
    pub(crate) s: [[f64; 3]; 3],
    pub(crate) y: Vec3,
}

/// Eliminates the four turns of m and b from the first rows and columns of a form. Returns how many pivots are negative.
#[inline(always)]
pub(crate) fn pivot_out<const ROWS: usize, const COLUMNS: usize>(form: &mut Form, sum: &mut Sum) -> usize {
    let mut negative = 0;
    for k in 0..4 {
        let pivot = form[k];
        negative += usize::from(pivot[k] < 0.0);
        let inverse = 1.0 / pivot[k];
        for i in k + 1..ROWS {
            // Rows of δr_a stand behind the columns of the linear terms.
            let part = pivot[if i < LINEAR { i } else { i + 4 }] * inverse;
            for (value, less) in form[i][..COLUMNS].iter_mut().zip(&pivot[..COLUMNS]) {
                *value -= part * less;
            }
        }
        let columns = Vec3::new(pivot[LINEAR + 1], pivot[LINEAR + 2], pivot[LINEAR + 3]);
        let scaled = columns * inverse;
        sum.y += scaled * pivot[LINEAR];
        for (row, a) in sum.s.iter_mut().zip([scaled.x, scaled.y, scaled.z]) {
            row[0] += a * columns.x;
            row[1] += a * columns.y;
            row[2] += a * columns.z;
        }
    }
    negative
}

/// Adds what V_b says of δr_b (in the form it was left in, from the row of x_b on) to the form of the element before, where
/// x_b are the variables 2 and 3 and δr_b is δr_a and the `shifts` of the six turns.
#[inline(always)]
pub(crate) fn add_beyond(form: &mut Form, beyond: &[Row; 5], shifts: &[Vec3; 6]) {
    let row = |k: usize, from: usize| Vec3::new(beyond[k][from], beyond[k][from + 1], beyond[k][from + 2]);
    // P of δr, all of it, and its linear terms, column by column.
    let (p0, p1, p2) = (row(2, MOVED), row(3, MOVED), row(4, MOVED));
    let p = [p0, Vec3::new(p0.y, p1.y, p1.z), Vec3::new(p0.z, p1.z, p2.z)];
    let linear = [0, 1, 2, 3].map(|j| Vec3::new(beyond[2][LINEAR + j], beyond[3][LINEAR + j], beyond[4][LINEAR + j]));
    // P beside x_b.
    let beside = [row(0, MOVED), row(1, MOVED)];
    for (i, shift) in shifts.iter().enumerate() {
        let pulled = p[0] * shift.x + p[1] * shift.y + p[2] * shift.z;
        for j in 0..4 {
            form[i][LINEAR + j] += linear[j].dot(*shift);
        }
        for (k, beside) in beside.iter().enumerate() {
            let share = beside.dot(*shift);
            form[i.min(2 + k)][i.max(2 + k)] += if i == 2 + k { 2.0 * share } else { share };
            if i == 2 + k {
                form[i][MOVED] += beside.x;
                form[i][MOVED + 1] += beside.y;
                form[i][MOVED + 2] += beside.z;
            }
        }
        for (j, other) in shifts.iter().enumerate() {
            form[i][j] += if j < i { 0.0 } else { pulled.dot(*other) };
        }
        form[i][MOVED] += pulled.x;
        form[i][MOVED + 1] += pulled.y;
        form[i][MOVED + 2] += pulled.z;
    }
    for k in 0..3 {
        for j in LINEAR..MOVED + 3 {
            form[LINEAR + k][j] += beyond[2 + k][j];
        }
    }
}

/// Adds `weight` times (along · δr)² / 2, δr being δr_a and the `places` of the six turns.
#[inline(always)]
pub(crate) fn add_square(form: &mut Form, places: &[Vec3; 6], along: Vec3, weight: f64) {
    let mut seen = [0.0; MOVED + 3];
    for (seen, place) in seen.iter_mut().zip(places) {
        *seen = place.dot(along);
    }
    (seen[MOVED], seen[MOVED + 1], seen[MOVED + 2]) = (along.x, along.y, along.z);
    add_row(form, &seen, weight);
}

/// Adds `weight` times (seen · variables)² / 2.
#[inline(always)]
pub(crate) fn add_row(form: &mut Form, seen: &Row, weight: f64) {
    for (i, row) in form.iter_mut().enumerate() {
        let part = weight * seen[if i < LINEAR { i } else { i + 4 }];
        for (value, seen) in row.iter_mut().zip(seen) {
            *value += part * seen;
        }
    }
}
