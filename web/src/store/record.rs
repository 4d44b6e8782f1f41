//! One car as it is kept: the form of the record, what a save may write over, which earlier states stay. No browser here.

use super::descent::Past;
use crc::{CRC_32_ISO_HDLC, Crc, NoTable};
use share::json::{self, Value};

/// The form of a record. Whatever is newer is left as it is.
pub(crate) const SCHEMA: u32 = 1;

/// First word of every record.
const MARK: &str = "hosewright-car";

/// How many earlier states of a car are kept.
pub(crate) const REVISIONS: usize = 5;

/// How long a state must have stood, or how far it must be from the one kept before it, to be kept as an earlier state
/// (ms; our choice: while one types, a state comes every other second, and five of those would be worth nothing).
const STOOD: f64 = 60_000.0;

const CRC: Crc<u32, NoTable> = Crc::<u32, NoTable>::new(&CRC_32_ISO_HDLC);

/// The check of a text.
pub(crate) fn check(text: &str) -> u32 {
    CRC.checksum(text.as_bytes())
}

/// A car as it is kept.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Record {
    /// Counts the saves.
    pub(crate) rev: u32,
    /// Milliseconds since 1970.
    pub(crate) saved_at: f64,
    /// The tab that saved it.
    pub(crate) by: String,
    pub(crate) name: String,
    pub(crate) hoses: usize,
    /// The car, as `Draft::kept` gives it; empty in a summary.
    pub(crate) kept: String,
    /// The states it goes on from; none in a summary, nor of one that an older version saved.
    pub(crate) past: Past,
    /// Of a copy that a file brought, as long as it was not changed: the check of what it was by its own name.
    pub(crate) copy_of: Option<u32>,
}

/// Why a record is not read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Unread {
    Damaged,
    /// Written by a newer version of the page.
    Newer,
}

impl Record {
    /// As it is stored: the mark, the schema and the check; what is known of it; the car. A line each.
    pub(crate) fn write(&self) -> String {
        let head = Value::object([
            ("rev", f64::from(self.rev).into()),
            ("saved_at", self.saved_at.into()),
            ("by", self.by.as_str().into()),
            ("name", self.name.as_str().into()),
            ("hoses", (self.hoses as f64).into()),
            ("past", self.past.written()),
            ("copy_of", self.copy_of.map_or(Value::Null, |of| f64::from(of).into())),
        ]);
        let body = format!("{head}\n{}", self.kept);
        format!("{MARK} {SCHEMA} {}\n{body}", check(&body))
    }

    /// Reads what was stored. Whether `kept` is a car is for the draft to say.
    pub(crate) fn read(text: &str) -> Result<Self, Unread> {
        let (first, body) = text.split_once('\n').unwrap_or((text, ""));
        let mut words = first.split(' ');
        let mark = words.next() == Some(MARK);
        let schema = words.next().and_then(|word| word.parse::<u32>().ok());
        match schema {
            Some(SCHEMA) if mark => {}
            Some(newer) if mark && newer > SCHEMA => return Err(Unread::Newer),
            _ => return Err(Unread::Damaged),
        }
        let crc = words.next().and_then(|word| word.parse::<u32>().ok());
        if crc != Some(check(body)) || words.next().is_some() {
            return Err(Unread::Damaged);
        }
        Self::of(body).ok_or(Unread::Damaged)
    }

    fn of(body: &str) -> Option<Self> {
        let (head, kept) = body.split_once('\n')?;
        let head = json::read(head).ok()?;
        let whole = |name: &str| u32::try_from(head.get(name)?.as_u64()?).ok();
        let text = |name: &str| Some(head.get(name)?.as_str()?.to_owned());
        Some(Self {
            rev: whole("rev")?,
            saved_at: head.get("saved_at")?.as_f64()?,
            by: text("by")?,
            name: text("name")?,
            hoses: whole("hoses")? as usize,
            kept: kept.to_owned(),
            past: head.get("past").and_then(Value::as_array).map(Past::read).unwrap_or_default(),
            copy_of: whole("copy_of"),
        })
    }

    /// The same without the car, for the list.
    pub(crate) fn summary(&self) -> Self {
        Self { by: self.by.clone(), name: self.name.clone(), kept: String::new(), past: Past::default(), ..*self }
    }
}

/// Which car is at hand, and from which of its states it goes on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Hand {
    pub(crate) id: String,
    /// The save it goes on from; 0 if there was none.
    pub(crate) rev: u32,
    /// The tab that is at it.
    pub(crate) by: String,
}

impl Hand {
    /// As it is kept beside the text it belongs to.
    pub(crate) fn write(&self, text: &str) -> String {
        let Self { id, rev, by } = self;
        format!("{id} {rev} {by} {}", check(text))
    }

    /// Only if it belongs to this text: a tab of an older version writes the text alone.
    pub(crate) fn read(line: &str, text: &str) -> Option<Self> {
        let mut words = line.split(' ');
        let (id, rev, by) = (words.next()?, words.next()?.parse::<u32>().ok()?, words.next()?);
        let belongs = words.next()?.parse::<u32>().ok()? == check(text) && words.next().is_none();
        belongs.then(|| Self { id: id.to_owned(), rev, by: by.to_owned() })
    }
}

/// What a save does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Verdict {
    /// It is the next state of the car.
    Write { rev: u32 },
    /// It stands there already.
    Same { rev: u32 },
    /// What stands there is another's work, or cannot be understood: a copy is made.
    Copy,
}

/// What a save may do to what stands under the car's id.
pub(crate) fn decide(stored: Option<&Result<Record, Unread>>, hand: &Hand, kept: &str) -> Verdict {
    match stored {
        // Taken away in another tab, or set aside: nothing is written over.
        None | Some(Err(Unread::Damaged)) => Verdict::Write { rev: hand.rev.saturating_add(1) },
        Some(Err(Unread::Newer)) => Verdict::Copy,
        Some(Ok(stored)) if stored.kept == kept => Verdict::Same { rev: stored.rev },
        Some(Ok(stored)) => {
            // A tab may end before it hears that its save was done: that save is its own.
            let own = stored.by == hand.by && stored.rev == hand.rev.saturating_add(1);
            match own || stored.rev == hand.rev {
                true => Verdict::Write { rev: stored.rev.saturating_add(1) },
                false => Verdict::Copy,
            }
        }
    }
}

/// Whether a state that is written over is kept: it stood for a while, or the one kept before it is a while ago. A clock
/// that was set back counts as a while.
pub(crate) fn is_worth_keeping(old: f64, kept_before: Option<f64>, now: f64) -> bool {
    (now - old).abs() >= STOOD || kept_before.is_none_or(|before| (old - before).abs() >= STOOD)
}

/// The key of an earlier state; they sort by their age.
pub(crate) fn revision_key(id: &str, rev: u32) -> String {
    format!("{id}/{rev:010}")
}

/// The name of a copy: the next number behind it.
pub(crate) fn copy_name(name: &str) -> String {
    let (name, number) = numbered(name).unwrap_or((name, 1));
    format!("{name} ({})", number.saturating_add(1))
}

/// The name of a copy without its number.
fn numbered(name: &str) -> Option<(&str, u32)> {
    let (name, number) = name.strip_suffix(')')?.rsplit_once(" (")?;
    Some((name, number.parse::<u32>().ok()?))
}

/// Whether by their names one is a copy of the other, or both are of a third.
pub(crate) fn are_copies(one: &str, other: &str) -> bool {
    let plain = |name| numbered(name).map_or(name, |(name, _)| name);
    plain(one) == plain(other)
}

/// Which lines were called something else, from their names before and now: `(old, new)`.
pub(crate) fn renamed(before: &[String], now: &[String]) -> Vec<(String, String)> {
    if before.len() != now.len() {
        return Vec::new();
    }
    let pairs = before.iter().zip(now).filter(|(old, new)| !now.contains(old) && !before.contains(new));
    pairs.map(|(old, new)| (old.clone(), new.clone())).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn record(rev: u32, by: &str, kept: &str) -> Record {
        let name = "my \"car\"\nö".into();
        let past = Past::read(&[3.0.into(), 4_294_967_295.0.into()]);
        Record { rev, saved_at: 1.75e12, by: by.into(), name, hoses: 3, kept: kept.into(), past, copy_of: Some(7) }
    }

    fn hand(rev: u32, by: &str) -> Hand {
        Hand { id: "x".into(), rev, by: by.into() }
    }

    // What phones hold already must be read by every later version: this file never changes.
    #[test]
    fn a_record_of_the_first_schema_is_read() {
        let record = Record::read(include_str!("../../../tests/files/v1/record.txt")).expect("a record");
        assert_eq!((record.rev, record.name.as_str(), record.hoses), (3, "invented", 2));
        let draft = crate::form::Draft::from_kept(&record.kept).expect("a car");
        let file = share::json::read(include_str!("../../../tests/files/v1/car.json")).expect("JSON");
        assert_eq!(draft.whole(), file);
    }

    #[test]
    fn a_record_reads_back_and_its_summary_too() {
        let whole = record(7, "tab", "{\"job\":{\"car\":\"ö\\n\"}}");
        assert_eq!(Record::read(&whole.write()), Ok(whole.clone()));
        let summary = whole.summary();
        assert_eq!(Record::read(&summary.write()), Ok(summary.clone()));
        assert_eq!((summary.kept.as_str(), summary.name.as_str(), summary.rev), ("", whole.name.as_str(), 7));
    }

    #[test]
    fn every_cut_and_every_changed_bit_is_found() {
        let whole = record(7, "tab", "{\"job\":{}}").write();
        for end in (0..whole.len()).filter(|end| whole.is_char_boundary(*end)) {
            assert_eq!(Record::read(&whole[..end]), Err(Unread::Damaged), "cut off after {end}");
        }
        for (at, bit) in (0..whole.len()).flat_map(|at| (0..8).map(move |bit| (at, bit))) {
            let mut bytes = whole.clone().into_bytes();
            bytes[at] ^= 1 << bit;
            // A changed schema may look newer: it is left alone then, which loses nothing.
            if let Ok(text) = String::from_utf8(bytes) {
                assert!(Record::read(&text).is_err(), "bit {bit} of byte {at}");
            }
        }
        for text in ["", "\n", "{}", "hosewright-car", "hosewright-car 0 0\n", "another 2 0\n{}\n"] {
            assert_eq!(Record::read(text), Err(Unread::Damaged), "{text:?}");
        }
    }

    #[test]
    fn a_newer_schema_is_told_whatever_follows() {
        for rest in ["", " 17", " 17\nwhatever", " a b c\n\n"] {
            assert_eq!(Record::read(&format!("hosewright-car {}{rest}", SCHEMA + 1)), Err(Unread::Newer), "{rest:?}");
        }
    }

    #[test]
    fn a_save_writes_only_over_the_state_it_goes_on_from() {
        let stored = |rev, by, kept| Ok(record(rev, by, kept));
        for (stored, hand, verdict) in [
            (None, hand(0, "a"), Verdict::Write { rev: 1 }),
            (None, hand(4, "a"), Verdict::Write { rev: 5 }),
            (Some(stored(4, "a", "old")), hand(4, "a"), Verdict::Write { rev: 5 }),
            (Some(stored(4, "b", "old")), hand(4, "a"), Verdict::Write { rev: 5 }),
            (Some(stored(5, "b", "old")), hand(4, "a"), Verdict::Copy),
            (Some(stored(3, "b", "old")), hand(4, "a"), Verdict::Copy),
            (Some(stored(5, "a", "old")), hand(4, "a"), Verdict::Write { rev: 6 }),
            (Some(stored(6, "a", "old")), hand(4, "a"), Verdict::Copy),
            (Some(stored(9, "b", "new")), hand(4, "a"), Verdict::Same { rev: 9 }),
            (Some(Err(Unread::Damaged)), hand(4, "a"), Verdict::Write { rev: 5 }),
            (Some(Err(Unread::Newer)), hand(4, "a"), Verdict::Copy),
        ] {
            assert_eq!(decide(stored.as_ref(), &hand, "new"), verdict, "{stored:?} {hand:?}");
        }
    }

    // Every order of the saves of two tabs: what one of them wrote last is there at the end, in the car or in a copy.
    #[test]
    fn two_tabs_never_write_over_each_other_unseen() {
        for order in 0..1_u32 << 8 {
            let mut cars = vec![record(1, "before", "start")];
            let mut hands = ["a", "b"].map(|by| (0, hand(1, by)));
            let mut last = [None, None];
            for step in 0..8 {
                let tab = usize::from(order >> step & 1 == 1);
                let kept = format!("{tab} {step}");
                let (car, hand) = &mut hands[tab];
                let stored = Ok(cars[*car].clone());
                let rev = match decide(Some(&stored), hand, &kept) {
                    Verdict::Write { rev } | Verdict::Same { rev } => rev,
                    Verdict::Copy => {
                        *car = cars.len();
                        cars.push(Record::default());
                        1
                    }
                };
                cars[*car] = record(rev, &hand.by, &kept);
                hand.rev = rev;
                last[tab] = Some(kept);
            }
            for last in last.iter().flatten() {
                assert!(cars.iter().any(|car| car.kept == *last), "{last} is lost in {order:b}");
            }
        }
    }

    #[test]
    fn what_is_at_hand_belongs_to_its_text() {
        let at = hand(12, "tab");
        let line = at.write("text");
        assert_eq!(Hand::read(&line, "text"), Some(at));
        assert_eq!(Hand::read(&line, "another text"), None);
        for bad in ["", "x", "x 1 tab", "x 1 tab 0 0", "x one tab 0"] {
            assert_eq!(Hand::read(bad, ""), None, "{bad}");
        }
    }

    #[test]
    fn states_that_stood_are_kept_and_those_between_two_keys_are_not() {
        let minute = 60_000.0;
        assert!(is_worth_keeping(0.0, None, 1000.0), "the first");
        assert!(!is_worth_keeping(2000.0, Some(0.0), 3000.0), "while one types");
        assert!(is_worth_keeping(2000.0, Some(0.0), 2000.0 + minute), "left standing");
        assert!(is_worth_keeping(minute, Some(0.0), minute + 1.0), "typing for a minute");
        let years = 3.2e11;
        assert!(is_worth_keeping(years, Some(years), 0.0), "the clock was set back over it");
        assert!(is_worth_keeping(0.0, Some(years), 1.0), "and before it");
        assert!(!is_worth_keeping(1.0, Some(0.0), 2.0), "then it goes on as before");
    }

    #[test]
    fn keys_of_revisions_sort_by_age() {
        let keys = [1, 9, 10, 99, u32::MAX].map(|rev| revision_key("x", rev));
        assert!(keys.is_sorted(), "{keys:?}");
    }

    #[test]
    fn copies_are_numbered() {
        for (name, copy) in [("car", "car (2)"), ("car (2)", "car (3)"), ("car (red)", "car (red) (2)"), ("", " (2)")] {
            assert_eq!(copy_name(name), copy);
        }
    }

    #[test]
    fn copies_know_each_other_by_their_names() {
        for (one, other) in [("car", "car"), ("car", "car (2)"), ("car (3)", "car (2)"), ("car (red)", "car (red) (2)")]
        {
            assert!(are_copies(one, other) && are_copies(other, one), "{one} {other}");
        }
        assert!(!are_copies("car", "car (red)") && !are_copies("car", "other (2)"));
    }

    #[test]
    fn a_renamed_line_is_told_from_one_moved_added_or_taken_away() {
        let names = |names: &[&str]| names.iter().map(|name| (*name).to_owned()).collect::<Vec<_>>();
        let of = |before: &[&str], now: &[&str]| renamed(&names(before), &names(now));
        assert_eq!(of(&["a", "b"], &["a", "c"]), [("b".to_owned(), "c".to_owned())]);
        for (before, now) in [(["a", "b"], ["b", "a"]), (["a", "b"], ["a", "b"]), (["a", "b"], ["a", "a"])] {
            assert_eq!(of(&before, &now), []);
        }
        assert_eq!(of(&["a", "b"], &["b"]), []);
        assert_eq!(of(&["a"], &["a", "b"]), []);
    }
}
