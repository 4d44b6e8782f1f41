//! Values as bytes, for the way between the page and its solver; both ends are the same build, so nothing is versioned.
//!
//! By hand and not through serde, whose generated readers and writers made the module larger.

use job::{
    Buy, CandidateReport, ClampReport, FindingReport, GapReport, HoseReport, LieReport, Marks, Problem, RejectedReport,
    Report, RunReport,
};

/// What can cross.
pub(super) trait Cross: Sized {
    fn write(&self, to: &mut Vec<u8>);

    /// Takes one from the front; `None` if that is not one.
    fn read(from: &mut &[u8]) -> Option<Self>;
}

/// A record: every field of it. A field of the struct that is missing here does not compile.
macro_rules! record {
    ($name:ident: $($field:ident),+) => {
        impl Cross for $name {
            fn write(&self, to: &mut Vec<u8>) {
                let Self { $($field),+ } = self;
                $($field.write(to);)+
            }

            fn read(from: &mut &[u8]) -> Option<Self> {
                Some(Self { $($field: Cross::read(from)?),+ })
            }
        }
    };
}

record!(Report: format, version, problems, runs);
record!(Problem: run, field, wrong, right);
record!(RunReport: run, name, candidates, rejected, remedies, turned_round, assumed, cautions);
record!(CandidateReport:
    hose, verdict, headline, why_behind, cut_window_mm, more_windows_mm, calm_window_mm, shorter_fails, longer_fails,
    cut_mm, chance, nearest, lie, ways, marks, buy, clamps, cut_window_if_half_as_stiff_mm,
    cut_window_if_twice_as_stiff_mm, findings);
record!(HoseReport: kind, sold_as, rubber, class, limit_c, bore_mm, outside_mm, source, basis);
record!(LieReport:
    free_mm, points_mm, bend_inside_mm, bend_fails_below_mm, bend_warns_below_mm, tightest_bend_mm, at_mm, bow_mm,
    gap_places_mm, gaps);
record!(GapReport: about, gap_mm, fails_below_mm, warns_below_mm);
record!(Marks: mouth_a_mm, mouth_b_mm, seat_play_mm);
record!(Buy: at_least_mm, by_100_mm, by_half_metre_mm, by_foot);
record!(ClampReport:
    end, spigot, kind, standard, size, range_mm, band_mm, closes_on_mm, opens_over_mm, band_from_end_mm, torque_nm,
    torque_plus_minus_nm, torque_source, not_smaller, source, basis);
record!(FindingReport:
    check, verdict, about, actual, allowed, unit, at_mm, why, source, basis, kink_radius_centre_mm, flattening_percent,
    six_times_bore_mm, must_move_mm);
record!(RejectedReport: bore_mm, outside_mm, sold_as, finding);

fn bytes<const N: usize>(from: &mut &[u8]) -> Option<[u8; N]> {
    let (bytes, rest) = from.split_first_chunk()?;
    *from = rest;
    Some(*bytes)
}

impl Cross for bool {
    fn write(&self, to: &mut Vec<u8>) {
        to.push(u8::from(*self));
    }

    fn read(from: &mut &[u8]) -> Option<Self> {
        bytes(from).map(|[byte]| byte != 0)
    }
}

impl Cross for u32 {
    fn write(&self, to: &mut Vec<u8>) {
        to.extend(self.to_le_bytes());
    }

    fn read(from: &mut &[u8]) -> Option<Self> {
        bytes(from).map(Self::from_le_bytes)
    }
}

impl Cross for usize {
    fn write(&self, to: &mut Vec<u8>) {
        u32::try_from(*self).expect("WebAssembly counts in 32 bits").write(to);
    }

    fn read(from: &mut &[u8]) -> Option<Self> {
        u32::read(from)?.try_into().ok()
    }
}

/// To the last bit.
impl Cross for f64 {
    fn write(&self, to: &mut Vec<u8>) {
        to.extend(self.to_le_bytes());
    }

    fn read(from: &mut &[u8]) -> Option<Self> {
        bytes(from).map(Self::from_le_bytes)
    }
}

impl Cross for String {
    fn write(&self, to: &mut Vec<u8>) {
        self.len().write(to);
        to.extend(self.bytes());
    }

    fn read(from: &mut &[u8]) -> Option<Self> {
        let length = usize::read(from)?;
        let (text, rest) = from.split_at_checked(length)?;
        *from = rest;
        Self::from_utf8(text.to_vec()).ok()
    }
}

impl<T: Cross> Cross for Option<T> {
    fn write(&self, to: &mut Vec<u8>) {
        self.is_some().write(to);
        if let Some(value) = self {
            value.write(to);
        }
    }

    fn read(from: &mut &[u8]) -> Option<Self> {
        if bool::read(from)? { T::read(from).map(Some) } else { Some(None) }
    }
}

impl<T: Cross> Cross for Vec<T> {
    fn write(&self, to: &mut Vec<u8>) {
        self.len().write(to);
        self.iter().for_each(|entry| entry.write(to));
    }

    fn read(from: &mut &[u8]) -> Option<Self> {
        (0..usize::read(from)?).map(|_| T::read(from)).collect()
    }
}

impl<T: Cross, const N: usize> Cross for [T; N] {
    fn write(&self, to: &mut Vec<u8>) {
        self.iter().for_each(|entry| entry.write(to));
    }

    fn read(from: &mut &[u8]) -> Option<Self> {
        let entries: Option<Vec<T>> = (0..N).map(|_| T::read(from)).collect();
        entries?.try_into().ok()
    }
}
