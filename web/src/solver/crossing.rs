//! Values as bytes, for the way between the page and its solver; both ends are the same build, so nothing is versioned.
//!
//! By hand and not through serde, whose generated readers and writers made the module larger.

use job::{
    AdviceReport, BendReport, Buy, CandidateReport, ChangeReport, CircuitReport, ClampReport, ClipReport,
    ClosuresReport, CoolantReport, CutGroupReport, CutLengthReport, CutPieceReport, CutsReport, Extra, FillReport,
    FindingReport, GapReport, HeatReport, HeatStateReport, HeldReport, HoseReport, ItemReport, LieReport, Marks,
    OrderReport, Problem, RefillReport, RejectedReport, RemedyReport, Report, RestReport, RunReport, ShoppingReport,
    WantedReport, WayReport,
};

/// What can cross. Reading does not fail here: the reader keeps what was wrong until its end.
pub(super) trait Cross: Sized {
    fn write(&self, to: &mut Vec<u8>);

    /// Takes one from the front.
    fn read(from: &mut Reader<'_>) -> Self;
}

/// Bytes being read. Once something was wrong everything is zeros, which end every list and every text. So no field asks
/// after each field in it, which made the code in wasm twice as large.
pub(super) struct Reader<'a> {
    bytes: &'a [u8],
    wrong: bool,
}

impl<'a> Reader<'a> {
    pub(super) fn new(bytes: &'a [u8]) -> Self {
        Self { bytes, wrong: false }
    }

    /// What was read has no meaning.
    pub(super) fn wrong(&mut self) {
        self.wrong = true;
        self.bytes = &[];
    }

    /// The next bytes; none if there are not so many.
    fn take(&mut self, length: usize) -> &'a [u8] {
        let Some((taken, rest)) = self.bytes.split_at_checked(length) else {
            self.wrong();
            return &[];
        };
        self.bytes = rest;
        taken
    }

    fn take_array<const N: usize>(&mut self) -> [u8; N] {
        self.take(N).try_into().unwrap_or([0; N])
    }

    /// Whether nothing was wrong and nothing is left.
    pub(super) fn is_at_end(&self) -> bool {
        !self.wrong && self.bytes.is_empty()
    }
}

/// A record: every field of it. A field of the struct that is missing here does not compile.
macro_rules! record {
    ($name:ident: $($field:ident),+) => {
        impl Cross for $name {
            fn write(&self, to: &mut Vec<u8>) {
                let Self { $($field),+ } = self;
                $($field.write(to);)+
            }

            fn read(from: &mut Reader<'_>) -> Self {
                Self { $($field: Cross::read(from)),+ }
            }
        }
    };
}

record!(Report: format, version, problems, runs, coolant, refill, cuts, shopping, circuit, closures, order, fill);

/// What the page works out by itself does not cross.
macro_rules! stays {
    ($($name:ident),+) => {
        $(impl Cross for Option<$name> {
            fn write(&self, _: &mut Vec<u8>) {}

            fn read(_: &mut Reader<'_>) -> Self {
                None
            }
        })+
    };
}

stays!(CircuitReport, ClosuresReport, FillReport, OrderReport);
record!(ShoppingReport: items, left_out);
record!(ItemReport: key, group, what, amount, unit, spare, length_mm, serves, source, basis);
record!(CutsReport: allowance_mm, source, basis, groups, left_out, not_wanted);
record!(CutGroupReport:
    hose, pieces, lengths, too_long, sold_by_mm, longest_mm, sold_lengths_mm, bought_mm, at_least_mm, price, at_least_price,
    proven, assumed);
record!(CutPieceReport: run, name, cut_mm);
record!(CutLengthReport: length_mm, at_hand, pieces, left_mm);
record!(CoolantReport: glycol, percent, freezes_c, boils_c, hot_c, grows_percent, density_kg_m3);
record!(RefillReport:
    kind, what, wanted_percent, ends_percent, pour_l, water_l, drain_l, leave_at_most_l, freezes_c, boils_c, grows_l);
record!(Problem: run, field, wrong, right);
record!(RunReport: run, name, candidates, rejected, remedies, wanted, turned_round, advice, assumed, cautions);
record!(AdviceReport: what, source, basis);
record!(CandidateReport:
    hose, verdict, headline, why_behind, cut_window_mm, more_windows_mm, calm_window_mm, shorter_fails, longer_fails,
    cut_mm, chance, chances, nearest, lie, ways, ways_to_lie, marks, buy, clamps, cut_window_if_half_as_stiff_mm,
    cut_window_if_twice_as_stiff_mm, findings);
record!(WayReport: name, bows, told, of_itself, energy_over_least, verdict, why, points_mm);
record!(RemedyReport: kind, what, change, verdict, headline, cut_mm, cut_window_mm, tightest_bend_mm, points_mm);
record!(ChangeReport: field, value);
record!(HoseReport: kind, sold_as, rubber, class, limit_c, bore_mm, outside_mm, source, basis);
record!(LieReport:
    free_mm, points_mm, bend_inside_mm, bend_fails_below_mm, bend_warns_below_mm, tightest_bend_mm, at_mm, bow_mm,
    clips, rests, gap_places_mm, gaps, heat);
record!(HeatReport: about, skin_c, fails_above_c, warns_above_c, also);
record!(HeatStateReport: state, skin_c);
record!(RestReport: about, from_mm, to_mm, force_n);
record!(HeldReport: holds, at_mm, force_n);
record!(WantedReport: free_mm, cut_mm, bends, off_mm, off_deg, clips, strays_mm, points_mm);
record!(BendReport: at_mm, bend_deg, inside_mm, verdict);
record!(ClipReport: at_mm, along, from_a_mm);
record!(GapReport: about, gap_mm, fails_below_mm, warns_below_mm);
record!(Marks: mouth_a_mm, mouth_b_mm, seat_play_mm);
record!(Buy: at_least_mm, by_100_mm, by_half_metre_mm, by_foot);
record!(ClampReport:
    end, spigot, kind, standard, size, range_mm, band_mm, closes_on_mm, opens_over_mm, band_from_end_mm, torque_nm,
    torque_plus_minus_nm, torque_source, again_nm, again_plus_minus_nm, follows, not_smaller, source, basis);
record!(FindingReport:
    check, verdict, about, actual, allowed, unit, at_mm, why, source, basis, kink_radius_centre_mm, flattening_percent,
    six_times_bore_mm, must_move_mm, rock_shift_mm, rock_turn_deg, extra);
record!(RejectedReport: bore_mm, outside_mm, sold_as, finding);

impl Cross for Extra {
    fn write(&self, to: &mut Vec<u8>) {
        self.0.write(to);
    }

    fn read(from: &mut Reader<'_>) -> Self {
        Self(Cross::read(from))
    }
}

impl Cross for (String, f64) {
    fn write(&self, to: &mut Vec<u8>) {
        self.0.write(to);
        self.1.write(to);
    }

    fn read(from: &mut Reader<'_>) -> Self {
        (Cross::read(from), Cross::read(from))
    }
}

impl Cross for bool {
    fn write(&self, to: &mut Vec<u8>) {
        to.push(u8::from(*self));
    }

    fn read(from: &mut Reader<'_>) -> Self {
        from.take_array() != [0]
    }
}

impl Cross for u32 {
    fn write(&self, to: &mut Vec<u8>) {
        to.extend(self.to_le_bytes());
    }

    fn read(from: &mut Reader<'_>) -> Self {
        Self::from_le_bytes(from.take_array())
    }
}

impl Cross for usize {
    fn write(&self, to: &mut Vec<u8>) {
        u32::try_from(*self).expect("WebAssembly counts in 32 bits").write(to);
    }

    fn read(from: &mut Reader<'_>) -> Self {
        u32::read(from).try_into().expect("an address has 32 bits or more")
    }
}

/// To the last bit.
impl Cross for f64 {
    fn write(&self, to: &mut Vec<u8>) {
        to.extend(self.to_le_bytes());
    }

    fn read(from: &mut Reader<'_>) -> Self {
        Self::from_le_bytes(from.take_array())
    }
}

impl Cross for String {
    fn write(&self, to: &mut Vec<u8>) {
        self.len().write(to);
        to.extend(self.bytes());
    }

    fn read(from: &mut Reader<'_>) -> Self {
        let length = usize::read(from);
        Self::from_utf8(from.take(length).to_vec()).unwrap_or_else(|_| {
            from.wrong();
            Self::new()
        })
    }
}

impl<T: Cross> Cross for Option<T> {
    fn write(&self, to: &mut Vec<u8>) {
        self.is_some().write(to);
        if let Some(value) = self {
            value.write(to);
        }
    }

    fn read(from: &mut Reader<'_>) -> Self {
        bool::read(from).then(|| T::read(from))
    }
}

impl<T: Cross> Cross for Vec<T> {
    fn write(&self, to: &mut Vec<u8>) {
        self.len().write(to);
        self.iter().for_each(|entry| entry.write(to));
    }

    fn read(from: &mut Reader<'_>) -> Self {
        let mut entries = Self::new();
        for _ in 0..usize::read(from) {
            if from.wrong {
                break;
            }
            entries.push(T::read(from));
        }
        entries
    }
}

impl<T: Cross, const N: usize> Cross for [T; N] {
    fn write(&self, to: &mut Vec<u8>) {
        self.iter().for_each(|entry| entry.write(to));
    }

    fn read(from: &mut Reader<'_>) -> Self {
        std::array::from_fn(|_| T::read(from))
    }
}
