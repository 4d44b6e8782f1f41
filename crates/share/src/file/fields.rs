//! Every field of a job file, under the name it has in the struct.
//!
//! What is not known is absent or null; a list or an object that says nothing is not written. By hand and not through serde,
//! whose generated readers made the page's module larger.

use crate::json::{Object, Value};
use job::input::{
    BeadInput, CanBuyInput, ClosureInput, ConditionsInput, CoolantInput, CrankLineInput, DecisionInput, ElbowInput,
    EndInput, FormInput, GlycolInput, HoseInput, KindInput, LegInput, LengthSoldInput, LineInput, LineKindInput,
    LogInput, NeedsInput, NeighbourInput, OnInput, PartInput, PartKindInput, PortAtInput, PortInput, RefillInput,
    RelationInput, RelationKindInput, ReplacesInput, RockInput, RoleInput, RunInput, SeatFromInput, ShieldInput,
    SideInput, SleeveInput, SpigotInput, StandsInput, StateInput, StockInput, SystemInput, Triple, TurnsInput,
    ViaInput,
};
use std::collections::BTreeMap;

/// What is wrong in a value, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Wrong {
    /// Its path from the value that was read, as `neighbours[0].kind`; empty for the value itself.
    pub(super) path: String,
    /// In words.
    pub(super) what: String,
}

/// Keeps the first thing that is wrong; what stands in its place is then 0, empty or absent. So no field asks after each
/// field in it, which made the code in wasm twice as large.
#[derive(Debug, Default)]
pub(super) struct Reader {
    /// Where the reader is.
    path: String,
    wrong: Option<Wrong>,
}

impl Reader {
    pub(super) fn wrong(&mut self, what: String) {
        if self.wrong.is_none() {
            self.wrong = Some(Wrong { path: self.path.clone(), what });
        }
    }

    fn expected(&mut self, what: &str, found: &Value) {
        let found = match found {
            Value::Null if self.is_at_a_name() => return self.missing(),
            Value::Array(list) => format!("a list of {}", list.len()),
            Value::Object(_) => "an object".to_owned(),
            plain => plain.to_string(),
        };
        self.wrong(format!("must be {what}, not {found}"));
    }

    fn is_at_a_name(&self) -> bool {
        !self.path.is_empty() && !self.path.ends_with(']')
    }

    fn missing(&mut self) {
        let name = self.path.rsplit('.').next().unwrap_or_default();
        self.wrong(format!("{name} is missing"));
    }

    /// All of a value, if it is an object with none but these names.
    pub(super) fn fields<'a>(&mut self, value: &'a Value, names: &[&str]) -> &'a Object {
        static NONE: Object = Object::new();
        let Value::Object(fields) = value else {
            self.expected("an object", value);
            return &NONE;
        };
        if let Some((name, _)) = fields.iter().find(|(name, _)| !names.contains(name)) {
            let known = names.join(", ");
            self.within(name, |reader| reader.wrong(format!("not a field here; the fields are: {known}")));
        }
        fields
    }

    /// One of them; what is absent is null.
    pub(super) fn field<T: Field>(&mut self, fields: &Object, name: &str) -> T {
        let value = fields.get(name).unwrap_or(&Value::Null);
        self.within(name, |reader| T::read(value, reader))
    }

    /// The values of a list; it may be empty, but not absent.
    pub(super) fn values<'a>(&mut self, fields: &'a Object, name: &str) -> &'a [Value] {
        self.within(name, |reader| reader.list(fields.get(name).unwrap_or(&Value::Null)))
    }

    /// The values of a list that may be absent.
    pub(super) fn values_if_any<'a>(&mut self, fields: &'a Object, name: &str) -> &'a [Value] {
        match fields.get(name) {
            None | Some(Value::Null) => &[],
            Some(value) => self.within(name, |reader| reader.list(value)),
        }
    }

    fn list<'a>(&mut self, value: &'a Value) -> &'a [Value] {
        value.as_array().unwrap_or_else(|| {
            self.expected("a list", value);
            &[]
        })
    }

    /// Reads on at a name, or at a place in a list.
    fn within<T>(&mut self, place: &str, read: impl FnOnce(&mut Self) -> T) -> T {
        let outside = self.path.len();
        if outside > 0 && !place.starts_with('[') {
            self.path.push('.');
        }
        self.path.push_str(place);
        let value = read(self);
        self.path.truncate(outside);
        value
    }

    /// Reads one value that stands by itself.
    pub(super) fn whole<T: Field>(value: &Value) -> Result<T, Wrong> {
        let mut reader = Self::default();
        let read = T::read(value, &mut reader);
        reader.end(read)
    }

    /// What was read, if nothing was wrong.
    pub(super) fn end<T>(self, read: T) -> Result<T, Wrong> {
        self.wrong.map_or(Ok(read), Err)
    }
}

/// What can stand in a job file.
pub(super) trait Field: Sized {
    /// Null, or an empty list or object, if it says nothing.
    fn write(&self) -> Value;

    /// From a value; null says nothing.
    fn read(value: &Value, reader: &mut Reader) -> Self;
}

/// Adds a field to an object, if it says something.
pub(super) fn put(fields: &mut Object, name: &str, value: Value) {
    let says_nothing = match &value {
        Value::Null => true,
        Value::Array(list) => list.is_empty(),
        Value::Object(object) => object.is_empty(),
        _ => false,
    };
    if !says_nothing {
        fields.insert(name, value);
    }
}

/// A record: every field of it. A field of the struct that is missing here does not compile.
macro_rules! record {
    ($name:ident: $($field:ident),+ $(; 2: $($newer:ident),+)? $(; 3: $($newest:ident),+)?) => {
        record!(@all $name: $($field),+ $(, $($newer),+)? $(, $($newest),+)?);
    };
    (@all $name:ident: $($field:ident),+) => {
        impl Field for $name {
            fn write(&self) -> Value {
                let Self { $($field),+ } = self;
                let mut fields = Object::new();
                $(put(&mut fields, stringify!($field), $field.write());)+
                Value::Object(fields)
            }

            fn read(value: &Value, reader: &mut Reader) -> Self {
                let fields = reader.fields(value, &[$(stringify!($field)),+]);
                Self { $($field: reader.field(fields, stringify!($field))),+ }
            }
        }
    };
}

/// A choice of words. A variant that is missing here does not compile.
macro_rules! choice {
    ($name:ident: $first_word:literal $first:ident $(, $word:literal $variant:ident)+) => {
        impl Field for $name {
            fn write(&self) -> Value {
                Value::from(match self { Self::$first => $first_word, $(Self::$variant => $word),+ })
            }

            fn read(value: &Value, reader: &mut Reader) -> Self {
                match value.as_str() {
                    Some($first_word) => Self::$first,
                    $(Some($word) => Self::$variant,)+
                    _ => {
                        let words = concat!("one of \"", $first_word, "\"" $(, " \"", $word, "\"")+);
                        reader.expected(words, value);
                        Self::$first
                    }
                }
            }
        }
    };
}

every_record!(record);
record!(PartInput: name, kind, spigots, on, needs_flow, leave_out, note);
record!(PortInput: name, spigot_mm, bead_mm, straight_mm, thread, made_of, role, closed_by);
record!(LineInput: name, kind, from, to, bore_mm, length_mm, state, can_buy, decision, run, inside, note);
record!(PortAtInput: part, spigot);
record!(RelationInput: what, is, of);
record!(StockInput: bore_mm, wall_mm, pieces_mm, sold_by_mm, longest_mm, price_per_m, lengths);
record!(LengthSoldInput: length_mm, price);
record!(SystemInput: ticked, log);
record!(LogInput: on, what, look_again);

choice!(PartKindInput:
    "pump" Pump, "block" Block, "head" Head, "radiator" Radiator, "heater core" HeaterCore,
    "expansion bottle" ExpansionBottle, "thermostat" Thermostat, "throttle body" ThrottleBody, "oil cooler" OilCooler,
    "vaporiser" Vaporiser, "tee" Tee, "tap" Tap, "restrictor" Restrictor, "bleed screw" BleedScrew,
    "non-return valve" NonReturnValve, "joiner" Joiner, "steel line" SteelLine, "other" Other);
choice!(RoleInput: "inlet" Inlet, "outlet" Outlet, "valve" Valve, "bypass" Bypass);
choice!(ClosureInput: "thread plug" ThreadPlug, "cap" Cap, "hose and plug" HoseAndPlug, "blank" Blank);
choice!(NeedsInput: "always" Always, "thermostat open" ThermostatOpen, "no" No);
choice!(LineKindInput: "hose" Hose, "moulded hose" MouldedHose, "steel line" SteelLine, "passage" Passage);
choice!(StateInput:
    "sound" Sound, "soft" Soft, "cracked" Cracked, "weeping" Weeping, "rusted" Rusted, "missing" Missing);
choice!(CanBuyInput: "moulded hose" Moulded, "straight hose" Straight, "nothing" Nothing);
choice!(DecisionInput: "keep" Keep, "moulded hose" Moulded, "universal hose" Universal, "leave out" LeaveOut);
choice!(RelationKindInput: "in the way of" InTheWayOf, "comes off with" ComesOffWith);
choice!(GlycolInput: "ethylene" Ethylene, "propylene" Propylene);
choice!(OnInput: "engine" Engine, "body" Body);
choice!(EndInput: "A" A, "B" B);
choice!(SeatFromInput: "measured" Measured, "taken" Taken);
choice!(KindInput: "hot" Hot, "moving" Moving, "sharp" Sharp, "solid" Solid);
choice!(SideInput: "pump inlet" PumpInlet, "other" Other);
choice!(SleeveInput: "none" None, "new" New, "dirty" Dirty);

impl Field for bool {
    fn write(&self) -> Value {
        Value::from(*self)
    }

    fn read(value: &Value, reader: &mut Reader) -> Self {
        value.as_bool().unwrap_or_else(|| {
            reader.expected("true or false", value);
            false
        })
    }
}

impl Field for f64 {
    fn write(&self) -> Value {
        Value::from(*self)
    }

    fn read(value: &Value, reader: &mut Reader) -> Self {
        value.as_f64().unwrap_or_else(|| {
            reader.expected("a number", value);
            0.0
        })
    }
}

impl Field for String {
    fn write(&self) -> Value {
        Value::from(self.as_str())
    }

    fn read(value: &Value, reader: &mut Reader) -> Self {
        let text = value.as_str().unwrap_or_else(|| {
            reader.expected("a text", value);
            ""
        });
        text.to_owned()
    }
}

impl<T: Field> Field for Option<T> {
    fn write(&self) -> Value {
        self.as_ref().map_or(Value::Null, T::write)
    }

    fn read(value: &Value, reader: &mut Reader) -> Self {
        (!value.is_null()).then(|| T::read(value, reader))
    }
}

impl<T: Field> Field for Vec<T> {
    fn write(&self) -> Value {
        Value::Array(self.iter().map(T::write).collect())
    }

    fn read(value: &Value, reader: &mut Reader) -> Self {
        let list = if value.is_null() { &[] } else { reader.list(value) };
        let entry = |(i, value)| reader.within(&format!("[{i}]"), |reader| T::read(value, reader));
        list.iter().enumerate().map(entry).collect()
    }
}

impl Field for BTreeMap<String, String> {
    fn write(&self) -> Value {
        let mut fields = Object::new();
        for (name, text) in self {
            fields.insert(name, text.write());
        }
        Value::Object(fields)
    }

    fn read(value: &Value, reader: &mut Reader) -> Self {
        let mut texts = Self::new();
        match value {
            Value::Object(fields) => {
                for (name, _) in fields.iter() {
                    texts.insert(name.to_owned(), reader.field(fields, name));
                }
            }
            Value::Null => {}
            other => reader.expected("an object", other),
        }
        texts
    }
}

impl Field for Triple {
    fn write(&self) -> Value {
        Value::from(*self)
    }

    fn read(value: &Value, reader: &mut Reader) -> Self {
        let mut numbers = [0.0; 3];
        match value {
            Value::Array(list) if list.len() == numbers.len() => numbers.copy_from_slice(&Vec::read(value, reader)),
            other => reader.expected("a list of 3 numbers", other),
        }
        numbers
    }
}

impl Field for FormInput {
    fn write(&self) -> Value {
        let mut fields = Object::new();
        let form = match self {
            Self::Rod { from_mm, to_mm, diameter_mm } => {
                put(&mut fields, "from_mm", from_mm.write());
                put(&mut fields, "to_mm", to_mm.write());
                put(&mut fields, "diameter_mm", diameter_mm.write());
                "rod"
            }
            Self::Ball { at_mm, diameter_mm } => {
                put(&mut fields, "at_mm", at_mm.write());
                put(&mut fields, "diameter_mm", diameter_mm.write());
                "ball"
            }
            Self::Box { from_mm, to_mm } => {
                put(&mut fields, "from_mm", from_mm.write());
                put(&mut fields, "to_mm", to_mm.write());
                "box"
            }
            Self::Disc { at_mm, along, diameter_mm, thick_mm } => {
                put(&mut fields, "at_mm", at_mm.write());
                put(&mut fields, "along", along.write());
                put(&mut fields, "diameter_mm", diameter_mm.write());
                put(&mut fields, "thick_mm", thick_mm.write());
                "disc"
            }
        };
        Value::object([(form, Value::Object(fields))])
    }

    fn read(value: &Value, reader: &mut Reader) -> Self {
        let mut forms = reader.fields(value, &["rod", "ball", "box", "disc"]).iter();
        let (form, value) = match (forms.next(), forms.next()) {
            (Some(only), None) => only,
            _ => {
                reader.wrong("must be one of rod, ball, box, disc".to_owned());
                ("box", &Value::Null)
            }
        };
        reader.within(form, |reader| match form {
            "rod" => {
                let fields = reader.fields(value, &["from_mm", "to_mm", "diameter_mm"]);
                let (from_mm, to_mm) = (reader.field(fields, "from_mm"), reader.field(fields, "to_mm"));
                Self::Rod { from_mm, to_mm, diameter_mm: reader.field(fields, "diameter_mm") }
            }
            "ball" => {
                let fields = reader.fields(value, &["at_mm", "diameter_mm"]);
                Self::Ball { at_mm: reader.field(fields, "at_mm"), diameter_mm: reader.field(fields, "diameter_mm") }
            }
            "disc" => {
                let fields = reader.fields(value, &["at_mm", "along", "diameter_mm", "thick_mm"]);
                let (at_mm, along) = (reader.field(fields, "at_mm"), reader.field(fields, "along"));
                let (diameter_mm, thick_mm) = (reader.field(fields, "diameter_mm"), reader.field(fields, "thick_mm"));
                Self::Disc { at_mm, along, diameter_mm, thick_mm }
            }
            _ => {
                let fields = reader.fields(value, &["from_mm", "to_mm"]);
                Self::Box { from_mm: reader.field(fields, "from_mm"), to_mm: reader.field(fields, "to_mm") }
            }
        })
    }
}

impl Field for BeadInput {
    fn write(&self) -> Value {
        match self {
            Self::Diameter(diameter) => diameter.write(),
            Self::Word(word) => word.write(),
        }
    }

    fn read(value: &Value, reader: &mut Reader) -> Self {
        match value {
            Value::String(word) => Self::Word(word.clone()),
            Value::Number(diameter) => Self::Diameter(*diameter),
            other => {
                reader.expected("a diameter or \"none\"", other);
                Self::Diameter(0.0)
            }
        }
    }
}

impl Field for TurnsInput {
    fn write(&self) -> Value {
        match self {
            Self::Word(word) => word.write(),
            Self::About { about } => Value::object([("about", about.write())]),
        }
    }

    fn read(value: &Value, reader: &mut Reader) -> Self {
        match value {
            Value::String(word) => Self::Word(word.clone()),
            other => {
                let fields = reader.fields(other, &["about"]);
                Self::About { about: reader.field(fields, "about") }
            }
        }
    }
}
