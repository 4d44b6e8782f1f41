//! A job while it is being typed: the last sound value of every field, and the text of every field that was touched.

use super::car::Held;
use super::car_fields::car_fields;
use super::fields::{Field, Reads, groups};
use super::sketch::{Form, Letter, Sketch};
use quantity::text::{
    LengthUnit, Misread, PressureUnit, TemperatureUnit, print_angle, print_length, print_pressure, print_temperature,
    read_angle, read_length, read_number, read_pressure, read_temperature,
};
use quantity::{Angle, Length, Pressure, Temperature};
use share::json::{self, Object, Value};

/// What is wrong with the text of a field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Slip {
    /// In a sentence.
    pub(crate) what: String,
    /// The likely right text, to take with one tap.
    pub(crate) likely: Option<String>,
}

impl From<Misread> for Slip {
    fn from(misread: Misread) -> Self {
        Self { what: misread.to_string(), likely: misread.likely }
    }
}

/// A job while it is being typed: one run at hand, and the rest of the car.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Draft {
    /// The job file, with the last sound value of every field; of the runs only the one at hand.
    pub(crate) job: Value,
    /// The fields in which something was typed, sorted by their place; nothing typed is lost.
    pub(super) touched: Vec<Touched>,
    /// The unit of a length typed without one.
    pub(crate) unit: LengthUnit,
    /// The runs before the one at hand, and behind it.
    pub(super) before: Vec<Held>,
    pub(super) after: Vec<Held>,
}

/// A field in which something was typed.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Touched {
    /// Its place in the job file, as a JSON pointer.
    pub(super) at: String,
    /// What was typed.
    pub(super) text: String,
    /// Why that cannot be read.
    slip: Option<Slip>,
}

impl Touched {
    /// What was typed, by its place.
    pub(super) fn kept(touched: &[Self]) -> Value {
        let mut typed = Object::new();
        for field in touched {
            typed.insert(&field.at, field.text.as_str().into());
        }
        Value::Object(typed)
    }
}

impl Draft {
    /// From a job file's text; `None` if it is not JSON.
    pub(crate) fn open(text: &str) -> Option<Self> {
        let job = json::read(text).ok()?;
        let mut draft =
            Self { job, touched: Vec::new(), unit: LengthUnit::Millimetre, before: Vec::new(), after: Vec::new() };
        draft.part_runs();
        Some(draft)
    }

    /// From a job.
    pub(crate) fn of(input: &job::input::Input) -> Option<Self> {
        Self::open(&share::write(input))
    }

    /// The job file's text of the run at hand, for the solver.
    pub(crate) fn text(&self) -> String {
        let kept = |name: &str| self.job.get(name).cloned().unwrap_or_default();
        let mut job = Object::new();
        for name in ["format", "version", "car", "conditions", "runs"] {
            job.insert(name, kept(name));
        }
        Value::Object(job).to_string()
    }

    /// All that was typed, as a text to keep: the job file and, beside it, the fields as they were typed. What is wrong
    /// with a text is not kept: it is read again.
    pub(crate) fn kept(&self) -> String {
        let inches = self.unit == LengthUnit::Inch;
        Value::object([
            ("job", self.job.clone()),
            ("typed", Touched::kept(&self.touched)),
            ("inches", inches.into()),
            ("before", Held::kept(&self.before)),
            ("after", Held::kept(&self.after)),
        ])
        .to_string()
    }

    /// From a text that [`Draft::kept`] gave; `None` if it is damaged.
    pub(crate) fn from_kept(text: &str) -> Option<Self> {
        let kept = json::read(text).ok()?;
        let (job, typed, inches) = (kept.get("job")?, kept.get("typed")?.as_object()?, kept.get("inches")?.as_bool()?);
        // Not all that `share::read` asks: a run that is not right yet is kept, too.
        let runs = job.get("runs").and_then(Value::as_array).map_or(0, <[_]>::len);
        if job.get("format").and_then(Value::as_str) != Some(share::FORMAT)
            || job.get("version").and_then(Value::as_u64) != Some(share::VERSION)
            || runs == 0
        {
            return None;
        }
        let unit = if inches { LengthUnit::Inch } else { LengthUnit::Millimetre };
        let mut draft = Self { job: job.clone(), touched: Vec::new(), unit, before: Vec::new(), after: Vec::new() };
        draft.part_runs();
        draft.type_again(typed)?;
        // What was kept before there were cars has one run.
        let held = |name: &str| match kept.get(name) {
            None => Some(Vec::new()),
            Some(list) => list.as_array()?.iter().map(|held| draft.held(held)).collect(),
        };
        let (before, after): (Vec<_>, Vec<_>) = (held("before")?, held("after")?);
        draft.before = before;
        draft.after.splice(0..0, after);
        Some(draft)
    }

    /// Takes texts that were typed, by their fields.
    pub(super) fn type_again(&mut self, typed: &Object) -> Option<()> {
        if typed.is_empty() {
            return Some(());
        }
        let mut fields: Vec<Field> = groups(&self.job, 0).into_iter().flat_map(|group| group.fields).collect();
        fields.extend(car_fields(&self.job));
        for (at, text) in typed.iter() {
            let text = text.as_str()?;
            // A field that is no longer there has nothing to say.
            if let Some(field) = fields.iter().find(|field| field.at == *at) {
                self.type_in(field, text);
            }
        }
        Some(())
    }

    /// Whether every field that was touched can be read.
    pub(crate) fn is_sound(&self) -> bool {
        self.touched.iter().all(|field| field.slip.is_none())
    }

    /// What is wrong with a field's text, if anything.
    pub(crate) fn slip(&self, at: &str) -> Option<&Slip> {
        self.touched(at)?.slip.as_ref()
    }

    /// Where a field stands among those that were touched, or where it would.
    fn place(&self, at: &str) -> Result<usize, usize> {
        self.touched.binary_search_by(|field| field.at.as_str().cmp(at))
    }

    fn touched(&self, at: &str) -> Option<&Touched> {
        self.place(at).ok().map(|i| &self.touched[i])
    }

    /// What stands in a field: as typed, or else the value in the unit chosen.
    pub(crate) fn shown(&self, field: &Field) -> String {
        self.touched(&field.at).map_or_else(|| self.printed(field), |touched| touched.text.clone())
    }

    fn printed(&self, field: &Field) -> String {
        let value = self.job.pointer(&field.at).unwrap_or(&Value::Null);
        match (field.reads, value) {
            (_, Value::String(word)) => word.clone(),
            (_, Value::Bool(yes)) => if *yes { "yes" } else { "no" }.to_owned(),
            (reads, value) => value.as_f64().map_or(String::new(), |number| match reads {
                Reads::Length | Reads::Bead => print_length(Length::mm(number), self.unit),
                Reads::Pressure => print_pressure(Pressure::kpa(number), PressureUnit::Kilopascal),
                Reads::Temperature => print_temperature(Temperature::celsius(number), TemperatureUnit::Celsius),
                Reads::Angle => print_angle(Angle::degrees(number)),
                Reads::Number | Reads::Words | Reads::One(_) | Reads::YesNo => number.to_string(),
            }),
        }
    }

    /// Takes what was typed into a field.
    pub(crate) fn type_in(&mut self, field: &Field, text: &str) {
        let slip = match self.read(field, text) {
            Ok(value) => {
                self.follow_name(&field.at, &value);
                let before = self.said(&field.at).to_owned();
                put(&mut self.job, &field.at, value);
                self.name_by_kind(&field.at, &before);
                None
            }
            Err(slip) => Some(slip),
        };
        let touched = Touched { at: field.at.clone(), text: text.to_owned(), slip };
        match self.place(&field.at) {
            Ok(i) => self.touched[i] = touched,
            Err(i) => self.touched.insert(i, touched),
        }
    }

    fn read(&self, field: &Field, text: &str) -> Result<Value, Slip> {
        let text = text.trim();
        if text.is_empty() {
            return Ok(Value::Null);
        }
        let number = match field.reads {
            Reads::Words | Reads::One(_) => return Ok(text.into()),
            Reads::YesNo => return Ok((text == "yes").into()),
            Reads::Bead if text.eq_ignore_ascii_case("none") => return Ok("none".into()),
            Reads::Length | Reads::Bead => read_length(text, self.unit)?.as_mm(),
            Reads::Pressure => read_pressure(text, PressureUnit::Kilopascal)?.as_kpa(),
            Reads::Temperature => read_temperature(text, TemperatureUnit::Celsius)?.as_celsius(),
            Reads::Angle => read_angle(text)?.as_degrees(),
            Reads::Number => read_number(text)?,
        };
        Ok(number.into())
    }

    /// Shows lengths in the other unit. Texts that could be read follow; those that could not stay as they are.
    pub(crate) fn swap_unit(&mut self) {
        self.unit = match self.unit {
            LengthUnit::Millimetre => LengthUnit::Inch,
            LengthUnit::Inch => LengthUnit::Millimetre,
        };
        self.touched.retain(|field| field.slip.is_some());
    }

    /// Tries a cut length on the run, or none.
    pub(crate) fn try_cut(&mut self, run: usize, cut_mm: Option<f64>) {
        self.set(run, "try_cut_mm", cut_mm.into());
    }

    /// What a run is called.
    pub(crate) fn name(&self, run: usize) -> String {
        let name = self.job.pointer(&format!("/runs/{run}/name")).and_then(Value::as_str);
        name.map_or_else(|| Self::plain_name(run), str::to_owned)
    }

    /// What a run without a name is called.
    pub(super) fn plain_name(run: usize) -> String {
        format!("run {}", run + 1)
    }

    /// A word of the run, if there is one.
    pub(crate) fn word(&self, run: usize, field: &str) -> Option<String> {
        self.job.pointer(&format!("/runs/{run}/{field}")).and_then(Value::as_str).map(str::to_owned)
    }

    /// A number of the run, if it is known.
    pub(crate) fn number(&self, run: usize, field: &str) -> Option<f64> {
        self.job.pointer(&format!("/runs/{run}/{field}")).and_then(Value::as_f64)
    }

    /// Whether anything is said there of the run.
    pub(crate) fn is_said(&self, run: usize, field: &str) -> bool {
        match self.job.pointer(&format!("/runs/{run}/{field}")) {
            None | Some(Value::Null) => false,
            Some(Value::Array(list)) => !list.is_empty(),
            Some(_) => true,
        }
    }

    /// Three numbers of the run, if they are known.
    pub(crate) fn triple(&self, run: usize, field: &str) -> Option<[f64; 3]> {
        let list = self.job.pointer(&format!("/runs/{run}/{field}")).and_then(Value::as_array)?;
        match list {
            [x, y, z] => Some([x.as_f64()?, y.as_f64()?, z.as_f64()?]),
            _ => None,
        }
    }

    /// Adds an entry to a list of the run.
    pub(crate) fn add(&mut self, run: usize, field: &str, entry: Value) {
        let at = format!("/runs/{run}/{field}");
        if self.job.pointer(&at).is_none_or(Value::is_null) {
            put(&mut self.job, &at, Value::Array(Vec::new()));
        }
        if let Some(list) = self.job.pointer_mut(&at).and_then(Value::as_array_mut) {
            list.push(entry);
        }
    }

    /// Takes an entry of a list of the run away.
    pub(crate) fn take_away(&mut self, run: usize, field: &str, i: usize) {
        let at = format!("/runs/{run}/{field}");
        if let Some(list) = self.job.pointer_mut(&at).and_then(Value::as_array_mut)
            && i < list.len()
        {
            list.remove(i);
            // What was typed for those behind it now belongs one place further up; their values are printed anew.
            self.forget(&at);
        }
    }

    /// A clip half way between the mouths, to be put where it is.
    pub(crate) fn add_clip(&mut self, run: usize) {
        let mouth = |end: &str| self.triple(run, &format!("{end}/at_mm")).unwrap_or_default();
        let (a, b) = (mouth("from"), mouth("to"));
        let half: [f64; 3] = std::array::from_fn(|i| (0.5 * (a[i] + b[i])).round());
        self.add(
            run,
            "via",
            Value::object([("at_mm", half.into()), ("holds", "P-clip".into()), ("on", "body".into())]),
        );
    }

    /// A run of which nothing is known yet. How thick spigot A was, where one stands, and what holds for the whole car, are taken
    /// over from the run before, if it was the person's own.
    pub(crate) fn fresh(before: Option<&Self>, unit: LengthUnit) -> Self {
        let kept = |at: &str| before.and_then(|before| before.job.pointer(at)).cloned().unwrap_or(Value::Null);
        let conditions = Some(kept("/conditions")).filter(|value| value.as_object().is_some());
        // Until it is said otherwise the careful way: one end rocks with the engine, the other does not.
        let end = |spigot: Value, on: &str, at: Value| {
            Value::object([("spigot_mm", spigot), ("at_mm", at), ("points", Value::Null), ("on", on.into())])
        };
        let run = Value::object([
            ("from", end(kept("/runs/0/from/spigot_mm"), "engine", [0.0; 3].into())),
            ("to", end(Value::Null, "body", Value::Null)),
            ("neighbours", Value::Array(Vec::new())),
            ("stood", kept("/runs/0/stood")),
        ]);
        let job = Value::object([
            ("format", share::FORMAT.into()),
            ("version", (share::VERSION as f64).into()),
            ("car", kept("/car")),
            ("conditions", conditions.unwrap_or(Value::Object(Object::new()))),
            ("runs", [run].into()),
        ]);
        Self { job, touched: Vec::new(), unit, before: Vec::new(), after: Vec::new() }
    }

    /// The run as far as it is known.
    pub(crate) fn sketch(&self, run: usize) -> Sketch {
        Sketch::of(&self.job, run)
    }

    /// Sets a value of the run from the drawing or the keypad; it takes the place of what was typed there.
    pub(crate) fn set(&mut self, run: usize, field: &str, value: Value) {
        let at = format!("/runs/{run}/{field}");
        self.set_at(&at, value);
    }

    /// Takes spigot B to be as thick as A, until it is said otherwise.
    pub(crate) fn take_b_as_a(&mut self) {
        let sketch = self.sketch(0);
        if let (Some(mm), None) = (sketch.end(Letter::A).spigot, sketch.end(Letter::B).spigot) {
            self.set(0, "to/spigot_mm", mm.into());
        }
    }

    /// Adds a thing near the run, with the likeliest thickness standing ready; where it is is not known yet.
    pub(crate) fn add_neighbour(&mut self, run: usize, kind: &str, form: Form) {
        let mut shape = Object::new();
        for place in form.places() {
            shape.insert(place, Value::Null);
        }
        match form {
            Form::Box => {}
            Form::Rod | Form::Ball => shape.insert("diameter_mm", 50.0.into()),
            Form::Disc => {
                shape.insert("along", [1.0, 0.0, 0.0].into());
                shape.insert("diameter_mm", 300.0.into());
                shape.insert("thick_mm", 40.0.into());
            }
        }
        let on = if kind == "hot" || form == Form::Disc { "engine" } else { "body" };
        let shape = Value::object([(form.field(), Value::Object(shape))]);
        let thing = Value::object([("kind", kind.into()), ("shape", shape), ("on", on.into())]);
        self.add(run, "neighbours", thing);
    }

    /// Forgets what was typed in the fields at and within a place.
    pub(super) fn forget(&mut self, at: &str) {
        self.touched.retain(|field| !field.at.starts_with(at));
    }
}

/// Sets the value at a JSON pointer, making the objects (and lists of three) on the way; an object all of whose fields
/// are unknown becomes unknown itself.
pub(super) fn put(job: &mut Value, at: &str, value: Value) {
    let Some((parent, last)) = at.rsplit_once('/') else { return };
    if job.pointer(parent).is_none_or(Value::is_null) {
        if value.is_null() {
            return;
        }
        let fresh = if last.parse::<usize>().is_ok() { [0.0; 3].into() } else { Value::Object(Object::new()) };
        put(job, parent, fresh);
    }
    match job.pointer_mut(parent) {
        Some(Value::Object(object)) => {
            object.insert(last, value);
            if ["/hose", "/replaces", "/stands", "/shield", "/refill"].iter().any(|record| parent.ends_with(record)) {
                let empty = object.iter().all(|(_, value)| value.is_null());
                if empty {
                    put(job, parent, Value::Null);
                }
            }
        }
        Some(Value::Array(list)) => {
            if let Some(slot) = last.parse::<usize>().ok().and_then(|i| list.get_mut(i)) {
                *slot = if value.is_null() { 0.0.into() } else { value };
            }
        }
        _ => {}
    }
}

/// The field of the form that a problem of the job names, as a JSON pointer.
pub(crate) fn pointer_of(run: Option<usize>, field: &str) -> String {
    let path = field.replace('[', "/").replace(']', "").replace('.', "/");
    match run {
        Some(run) => format!("/runs/{run}/{path}"),
        None => format!("/{path}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn draft() -> Draft {
        Draft::open(crate::example::EXAMPLE).expect("the example is JSON")
    }

    fn field_at(draft: &Draft, at: &str) -> Field {
        let found = groups(&draft.job, 0).into_iter().flat_map(|group| group.fields).find(|field| field.at == at);
        found.unwrap_or_else(|| panic!("no field {at}"))
    }

    #[test]
    fn every_number_of_the_example_has_a_field() {
        fn numbers(at: &str, value: &Value, out: &mut Vec<String>) {
            match value {
                Value::Number(_) => out.push(at.to_owned()),
                Value::Array(list) => list.iter().enumerate().for_each(|(i, v)| numbers(&format!("{at}/{i}"), v, out)),
                Value::Object(object) => object.iter().for_each(|(name, v)| numbers(&format!("{at}/{name}"), v, out)),
                _ => {}
            }
        }
        let draft = draft();
        let mut all = Vec::new();
        numbers("", &draft.job, &mut all);
        let fields: Vec<String> = groups(&draft.job, 0).into_iter().flat_map(|g| g.fields).map(|f| f.at).collect();
        let missing: Vec<_> = all.iter().filter(|at| *at != "/version" && !fields.contains(at)).collect();
        assert!(all.len() > 30 && missing.is_empty(), "no field for {missing:?}");
    }

    #[test]
    fn inches_fractions_and_commas_are_read_and_a_slip_keeps_the_last_sound_value() {
        let mut draft = draft();
        let spigot = field_at(&draft, "/runs/0/from/spigot_mm");
        draft.type_in(&spigot, "5/8 in");
        assert_eq!(draft.job.pointer(&spigot.at), Some(&15.875.into()));
        draft.type_in(&spigot, "16,5");
        assert_eq!(draft.job.pointer(&spigot.at), Some(&16.5.into()));
        draft.type_in(&spigot, "16,5,1");
        assert!(draft.slip(&spigot.at).is_some() && !draft.is_sound(), "two decimal marks");
        assert_eq!(draft.shown(&spigot), "16,5,1", "nothing typed is lost");
        assert_eq!(draft.job.pointer(&spigot.at), Some(&16.5.into()));
        draft.type_in(&spigot, "16");
        assert!(draft.is_sound(), "mended");
    }

    #[test]
    fn what_is_emptied_is_not_known_and_a_hose_of_no_numbers_is_none() {
        let mut draft = draft();
        let bore = field_at(&draft, "/runs/0/hose/bore_mm");
        draft.type_in(&bore, "16");
        assert_eq!(draft.job.pointer("/runs/0/hose"), Some(&Value::object([("bore_mm", 16.0.into())])));
        draft.type_in(&bore, "");
        assert_eq!(draft.job.pointer("/runs/0/hose"), Some(&Value::Null));
    }

    #[test]
    fn the_unit_can_be_swapped_and_swapped_back() {
        let mut draft = draft();
        let diameter = field_at(&draft, "/runs/0/neighbours/0/shape/rod/diameter_mm");
        let before = draft.shown(&diameter);
        draft.swap_unit();
        assert!(draft.shown(&diameter).ends_with("in"), "{}", draft.shown(&diameter));
        draft.swap_unit();
        assert_eq!(draft.shown(&diameter), before);
    }

    #[test]
    fn what_was_typed_is_kept_with_its_slips_and_its_unit() {
        let mut draft = draft();
        for (at, text) in [
            ("/runs/0/from/spigot_mm", "5/8 in"),
            ("/runs/0/from/seat_mm", "30,0,0"),
            ("/runs/0/hose/bore_mm", "sixteen"),
            ("/runs/0/to/name", "heater \"core\", left"),
        ] {
            draft.type_in(&field_at(&draft, at), text);
        }
        assert!(!draft.is_sound(), "two texts cannot be read");
        for _ in 0..2 {
            assert_eq!(Draft::from_kept(&draft.kept()), Some(draft.clone()));
            draft.swap_unit();
            draft.type_in(&field_at(&draft, "/runs/0/to/seat_mm"), "1 1/4");
        }
    }

    #[test]
    fn a_damaged_text_is_no_draft() {
        let whole = draft().kept();
        assert!(Draft::from_kept(&whole).is_some(), "whole");
        for end in (0..whole.len()).filter(|end| whole.is_char_boundary(*end)) {
            assert_eq!(Draft::from_kept(&whole[..end]), None, "cut off after {end}");
        }
        for (part, other) in [(share::FORMAT, "another-format"), ("\"runs\":", "\"ruins\":"), ("\"job\":", "\"jab\":")]
        {
            let damaged = whole.replace(part, other);
            assert!(damaged != whole && Draft::from_kept(&damaged).is_none(), "{part}");
        }
    }

    #[test]
    fn a_problem_of_the_job_finds_its_field() {
        assert_eq!(
            pointer_of(Some(0), "neighbours[0].shape.rod.diameter_mm"),
            "/runs/0/neighbours/0/shape/rod/diameter_mm"
        );
    }
}
