//! Every field of a job file, under the name it has in the struct.
//!
//! What is not known is absent or null; a list or an object that says nothing is not written. By hand and not through serde,
//! whose generated readers made the page's module larger.

use job::input::{
    BeadInput, ConditionsInput, CoolantInput, CrankLineInput, FormInput, GlycolInput, HoseInput, KindInput,
    NeighbourInput, OnInput, ReplacesInput, RockInput, RunInput, SeatFromInput, ShieldInput, SideInput, SleeveInput,
    SpigotInput, StandsInput, Triple, TurnsInput, ViaInput,
};
use serde_json::{Map, Value};
use std::collections::BTreeMap;

/// What is wrong in a value, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Wrong {
    /// Its path from the value that was read, as `neighbours[0].kind`; empty for the value itself.
    pub(super) path: String,
    /// In words.
    pub(super) what: String,
}

impl Wrong {
    fn here(what: String) -> Self {
        Self { path: String::new(), what }
    }

    fn expected(what: &str, found: &Value) -> Self {
        let found = match found {
            Value::Null => "null".to_owned(),
            Value::Array(list) => format!("a list of {}", list.len()),
            Value::Object(_) => "an object".to_owned(),
            plain => plain.to_string(),
        };
        Self::here(format!("must be {what}, not {found}"))
    }

    /// The same, seen from the object or list around it.
    fn within(self, place: &str) -> Self {
        let dot = if self.path.is_empty() || self.path.starts_with('[') { "" } else { "." };
        Self { path: format!("{place}{dot}{}", self.path), ..self }
    }
}

/// What can stand in a job file.
pub(super) trait Field: Sized {
    /// Null, or an empty list or object, if it says nothing.
    fn write(&self) -> Value;

    /// From a value that is not null.
    fn read(value: Value) -> Result<Self, Wrong>;

    /// What it is where nothing is said; `None` if it must be said.
    fn unsaid() -> Option<Self> {
        None
    }
}

/// The fields of an object.
#[derive(Default)]
pub(super) struct Fields(Map<String, Value>);

impl Fields {
    /// All of a value, if it is an object with none but these names.
    pub(super) fn of(value: Value, names: &[&str]) -> Result<Self, Wrong> {
        let Value::Object(map) = value else { return Err(Wrong::expected("an object", &value)) };
        match map.keys().find(|name| !names.contains(&name.as_str())) {
            Some(name) => {
                Err(Wrong::here(format!("not a field here; the fields are: {}", names.join(", "))).within(name))
            }
            None => Ok(Self(map)),
        }
    }

    /// Takes one of them out.
    pub(super) fn take<T: Field>(&mut self, name: &str) -> Result<T, Wrong> {
        match self.0.remove(name) {
            None | Some(Value::Null) => T::unsaid().ok_or_else(|| Wrong::here(format!("{name} is missing"))),
            Some(value) => T::read(value),
        }
        .map_err(|wrong| wrong.within(name))
    }

    /// Adds one, if it says something.
    pub(super) fn put(&mut self, name: &str, value: Value) {
        let says_nothing = match &value {
            Value::Null => true,
            Value::Array(list) => list.is_empty(),
            Value::Object(map) => map.is_empty(),
            _ => false,
        };
        if !says_nothing {
            self.0.insert(name.to_owned(), value);
        }
    }
}

impl From<Fields> for Value {
    fn from(fields: Fields) -> Self {
        Self::Object(fields.0)
    }
}

/// A record: every field of it. A field of the struct that is missing here does not compile.
macro_rules! record {
    ($name:ident: $($field:ident),+ $(; $unsaid:expr)?) => {
        impl Field for $name {
            fn write(&self) -> Value {
                let Self { $($field),+ } = self;
                let mut fields = Fields::default();
                $(fields.put(stringify!($field), $field.write());)+
                fields.into()
            }

            fn read(value: Value) -> Result<Self, Wrong> {
                let mut fields = Fields::of(value, &[$(stringify!($field)),+])?;
                Ok(Self { $($field: fields.take(stringify!($field))?),+ })
            }

            $(fn unsaid() -> Option<Self> {
                Some($unsaid)
            })?
        }
    };
}

/// A choice of words. A variant that is missing here does not compile.
macro_rules! choice {
    ($name:ident: $($word:literal $variant:ident),+) => {
        impl Field for $name {
            fn write(&self) -> Value {
                Value::from(match self { $(Self::$variant => $word),+ })
            }

            fn read(value: Value) -> Result<Self, Wrong> {
                match value.as_str() {
                    $(Some($word) => Ok(Self::$variant),)+
                    _ => Err(Wrong::expected(concat!("one of", $(" \"", $word, "\""),+), &value)),
                }
            }
        }
    };
}

record!(ConditionsInput:
    cap_kpa, coolant_c, bay_air_c, coolant, altitude_m, tape_error_mm, angle_error_deg, flow_l_min, filler_at_z_mm, stands;
    Self::default());
record!(CoolantInput: glycol, percent_by_volume);
record!(StandsInput: nose_up_deg);
record!(RunInput:
    name, from, to, via, neighbours, rock_mm, rock, hose, replaces, side, flow_can_stop, sleeve, stood, try_cut_mm);
record!(SpigotInput:
    name, spigot_mm, bead_mm, seat_mm, at_mm, points, on, made_of, straight_mm, can_move_mm, seat_from, turns,
    angle_error_deg, typed);
record!(ViaInput: at_mm, holds, on);
record!(NeighbourInput: name, shape, kind, on, surface_c, standoff_mm, shield);
record!(ShieldInput: gap_mm);
record!(RockInput: shift_mm, turn_deg, crank_line);
record!(CrankLineInput: through_mm, along);
record!(HoseInput:
    bore_mm, wall_mm, outside_mm, rubber, class, min_bend_radius_mm, creases_at_inside_mm, piece_mm);
record!(ReplacesInput: length_mm, bore_mm);

choice!(GlycolInput: "ethylene" Ethylene, "propylene" Propylene);
choice!(OnInput: "engine" Engine, "body" Body);
choice!(SeatFromInput: "measured" Measured, "taken" Taken);
choice!(KindInput: "hot" Hot, "moving" Moving, "sharp" Sharp, "solid" Solid);
choice!(SideInput: "pump inlet" PumpInlet, "other" Other);
choice!(SleeveInput: "none" None, "new" New, "dirty" Dirty);

impl Field for Value {
    fn write(&self) -> Value {
        self.clone()
    }

    fn read(value: Value) -> Result<Self, Wrong> {
        Ok(value)
    }
}

impl Field for bool {
    fn write(&self) -> Value {
        Value::from(*self)
    }

    fn read(value: Value) -> Result<Self, Wrong> {
        value.as_bool().ok_or_else(|| Wrong::expected("true or false", &value))
    }
}

impl Field for f64 {
    fn write(&self) -> Value {
        Value::from(*self)
    }

    fn read(value: Value) -> Result<Self, Wrong> {
        value.as_f64().ok_or_else(|| Wrong::expected("a number", &value))
    }
}

impl Field for String {
    fn write(&self) -> Value {
        Value::from(self.as_str())
    }

    fn read(value: Value) -> Result<Self, Wrong> {
        match value {
            Value::String(text) => Ok(text),
            other => Err(Wrong::expected("a text", &other)),
        }
    }
}

impl<T: Field> Field for Option<T> {
    fn write(&self) -> Value {
        self.as_ref().map_or(Value::Null, T::write)
    }

    fn read(value: Value) -> Result<Self, Wrong> {
        T::read(value).map(Some)
    }

    fn unsaid() -> Option<Self> {
        Some(None)
    }
}

impl<T: Field> Field for Vec<T> {
    fn write(&self) -> Value {
        Value::Array(self.iter().map(T::write).collect())
    }

    fn read(value: Value) -> Result<Self, Wrong> {
        let Value::Array(list) = value else { return Err(Wrong::expected("a list", &value)) };
        let entry = |(i, value)| T::read(value).map_err(|wrong| wrong.within(&format!("[{i}]")));
        list.into_iter().enumerate().map(entry).collect()
    }

    fn unsaid() -> Option<Self> {
        Some(Self::new())
    }
}

impl Field for BTreeMap<String, String> {
    fn write(&self) -> Value {
        Value::Object(self.iter().map(|(name, text)| (name.clone(), text.write())).collect())
    }

    fn read(value: Value) -> Result<Self, Wrong> {
        let Value::Object(map) = value else { return Err(Wrong::expected("an object", &value)) };
        let entry = |(name, value): (String, Value)| match String::read(value) {
            Ok(text) => Ok((name, text)),
            Err(wrong) => Err(wrong.within(&name)),
        };
        map.into_iter().map(entry).collect()
    }

    fn unsaid() -> Option<Self> {
        Some(Self::new())
    }
}

impl Field for Triple {
    fn write(&self) -> Value {
        Value::Array(self.iter().map(f64::write).collect())
    }

    fn read(value: Value) -> Result<Self, Wrong> {
        let length = value.as_array().map(Vec::len);
        if length != Some(3) {
            return Err(Wrong::expected("a list of 3 numbers", &value));
        }
        let numbers = Vec::<f64>::read(value)?;
        Ok([numbers[0], numbers[1], numbers[2]])
    }
}

impl Field for FormInput {
    fn write(&self) -> Value {
        let mut fields = Fields::default();
        let form = match self {
            Self::Rod { from_mm, to_mm, diameter_mm } => {
                fields.put("from_mm", from_mm.write());
                fields.put("to_mm", to_mm.write());
                fields.put("diameter_mm", diameter_mm.write());
                "rod"
            }
            Self::Ball { at_mm, diameter_mm } => {
                fields.put("at_mm", at_mm.write());
                fields.put("diameter_mm", diameter_mm.write());
                "ball"
            }
            Self::Box { from_mm, to_mm } => {
                fields.put("from_mm", from_mm.write());
                fields.put("to_mm", to_mm.write());
                "box"
            }
        };
        Value::Object(Map::from_iter([(form.to_owned(), fields.into())]))
    }

    fn read(value: Value) -> Result<Self, Wrong> {
        let mut forms = Fields::of(value, &["rod", "ball", "box"])?.0.into_iter();
        let (Some((form, value)), None) = (forms.next(), forms.next()) else {
            return Err(Wrong::here("must be one of rod, ball, box".to_owned()));
        };
        let read = || {
            Ok(match form.as_str() {
                "rod" => {
                    let mut fields = Fields::of(value, &["from_mm", "to_mm", "diameter_mm"])?;
                    let (from_mm, to_mm) = (fields.take("from_mm")?, fields.take("to_mm")?);
                    Self::Rod { from_mm, to_mm, diameter_mm: fields.take("diameter_mm")? }
                }
                "ball" => {
                    let mut fields = Fields::of(value, &["at_mm", "diameter_mm"])?;
                    Self::Ball { at_mm: fields.take("at_mm")?, diameter_mm: fields.take("diameter_mm")? }
                }
                _ => {
                    let mut fields = Fields::of(value, &["from_mm", "to_mm"])?;
                    Self::Box { from_mm: fields.take("from_mm")?, to_mm: fields.take("to_mm")? }
                }
            })
        };
        read().map_err(|wrong: Wrong| wrong.within(&form))
    }
}

impl Field for BeadInput {
    fn write(&self) -> Value {
        match self {
            Self::Diameter(diameter) => diameter.write(),
            Self::Word(word) => word.write(),
        }
    }

    fn read(value: Value) -> Result<Self, Wrong> {
        match value {
            Value::String(word) => Ok(Self::Word(word)),
            Value::Number(_) => f64::read(value).map(Self::Diameter),
            other => Err(Wrong::expected("a diameter or \"none\"", &other)),
        }
    }
}

impl Field for TurnsInput {
    fn write(&self) -> Value {
        match self {
            Self::Word(word) => word.write(),
            Self::About { about } => Value::Object(Map::from_iter([("about".to_owned(), about.write())])),
        }
    }

    fn read(value: Value) -> Result<Self, Wrong> {
        match value {
            Value::String(word) => Ok(Self::Word(word)),
            other => Ok(Self::About { about: Fields::of(other, &["about"])?.take("about")? }),
        }
    }
}
