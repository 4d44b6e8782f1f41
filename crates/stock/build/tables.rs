//! What each table holds, what its cells may say, and the Rust it becomes.

use crate::table::{Row, Table, Wrong};
use quantity::Basis;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

/// All tables as Rust statics. `open` gives the text of a file of the data folder.
pub(crate) fn as_rust(open: impl Fn(&str) -> Result<String, Wrong>) -> Result<String, Wrong> {
    let table = |file, columns| Table::read(file, columns, &open(file)?);
    let sources = Sources::read(&table("sources.csv", &["key", "title", "where", "basis"])?)?;
    let classes = table("classes.csv", &["class", "rubber", "least_c", "greatest_c", "source", "basis"])?;
    let hoses = table(
        "hoses.csv",
        &["bore_mm", "wall_mm", "sold_as", "kind", "class", "wire_supported", "sold_by_mm", "source", "basis"],
    )?;
    let bores = table("bores.csv", &["nominal_mm", "making", "least_mm", "greatest_mm", "source", "basis"])?;
    let clamps = table(
        "clamps.csv",
        &[
            "kind",
            "standard",
            "size",
            "least_mm",
            "greatest_mm",
            "band_least_mm",
            "band_greatest_mm",
            "nominal_mm",
            "source",
            "basis",
        ],
    )?;
    let torques = table(
        "torques.csv",
        &["band_from_mm", "tightening", "torque_nm", "plus_minus_nm", "band_mm", "source", "basis"],
    )?;
    let materials = table("materials.csv", &["property", "density_kg_m3", "hardness_shore_a", "source", "basis"])?;

    let classes = Classes::read(&classes, &sources)?;
    hoses.in_order("bore_mm, class, kind, wall_mm", |row| {
        Ok((row.number("bore_mm", BORE_MM)?, row.text("class")?, row.text("kind")?, row.number("wall_mm", WALL_MM)?))
    })?;
    bores.in_order("nominal_mm, making", |row| Ok((row.number("nominal_mm", BORE_MM)?, row.text("making")?)))?;
    clamps.in_order("kind, standard, least_mm, greatest_mm, band_least_mm", |row| {
        let (least, greatest) = (row.number("least_mm", CLAMP_MM)?, row.number("greatest_mm", CLAMP_MM)?);
        Ok((row.text("kind")?, row.text("standard")?, least, greatest, row.number("band_least_mm", BAND_MM)?))
    })?;
    torques.in_order("band_from_mm, tightening, source", |row| {
        Ok((row.number("band_from_mm", BAND_MM)?, row.text("tightening")?, row.text("source")?))
    })?;
    materials.in_order("property", |row| row.text("property"))?;

    let mut rust = String::new();
    rust += &classes.rust;
    rust += &list("HOSES", "Hose", &hoses, |row| hose(row, &classes, &sources))?;
    rust += &list("BORES", "BoreRow", &bores, |row| bore(row, &sources))?;
    rust += &list("CLAMPS", "Clamp", &clamps, |row| clamp(row, &sources))?;
    rust += &list("TORQUES", "Torque", &torques, |row| torque(row, &sources))?;
    for row in materials.rows() {
        rust += &material(&row, &sources)?;
    }
    sources.all_used()?;
    Ok(rust)
}

// What a cell may hold. Wide enough for any hose of a car, narrow enough to catch inches or a slipped decimal mark.
const BORE_MM: std::ops::RangeInclusive<f64> = 3.0..=80.0;
const WALL_MM: std::ops::RangeInclusive<f64> = 2.0..=8.0;
const CLAMP_MM: std::ops::RangeInclusive<f64> = 5.0..=120.0;
const BAND_MM: std::ops::RangeInclusive<f64> = 5.0..=25.0;
const RUBBER_C: std::ops::RangeInclusive<f64> = -60.0..=230.0;
const SOLD_BY_MM: std::ops::RangeInclusive<f64> = 50.0..=5000.0;
const TORQUE_NM: std::ops::RangeInclusive<f64> = 0.1..=15.0;
const DENSITY_KG_M3: std::ops::RangeInclusive<f64> = 900.0..=1500.0;
/// Shore A where Gent's relation holds.
const HARDNESS_SHORE_A: std::ops::RangeInclusive<f64> = 20.0..=80.0;

/// The source key: what each key stands for, and which were used.
struct Sources {
    by_key: BTreeMap<String, (String, Basis)>,
    used: RefCell<BTreeSet<String>>,
}

impl Sources {
    fn read(table: &Table) -> Result<Self, Wrong> {
        table.in_order("key", |row| row.text("key"))?;
        let mut by_key = BTreeMap::new();
        for row in table.rows() {
            let what = format!("{}: {}", row.text("title")?, row.text("where")?);
            by_key.insert(row.text("key")?.to_owned(), (what, row.basis()?));
        }
        Ok(Self { by_key, used: RefCell::default() })
    }

    /// The source of a row, as Rust.
    fn of(&self, row: &Row<'_>) -> Result<String, Wrong> {
        let (key, basis) = (row.text("source")?, row.basis()?);
        let Some((what, its_basis)) = self.by_key.get(key) else {
            return Err(row.wrong("source", &format!("\"{key}\" is no key of sources.csv")));
        };
        if basis == Basis::Published && *its_basis != Basis::Published {
            let what = format!("published, but its source \"{key}\" is {}", its_basis.as_str());
            return Err(row.wrong("basis", &what));
        }
        self.used.borrow_mut().insert(key.to_owned());
        Ok(format!("Source::new({what:?}, Basis::{basis:?})"))
    }

    fn all_used(&self) -> Result<(), Wrong> {
        let used = self.used.borrow();
        match self.by_key.keys().find(|key| !used.contains(*key)) {
            Some(key) => Err(Wrong::file("sources.csv", &format!("no row of any table uses the key \"{key}\""))),
            None => Ok(()),
        }
    }
}

/// The classes, for the hoses that belong to them.
struct Classes {
    rust: String,
    /// The rubber of a class and the Rust of its greatest temperature.
    by_name: BTreeMap<String, (&'static str, String)>,
}

impl Classes {
    fn read(table: &Table, sources: &Sources) -> Result<Self, Wrong> {
        table.in_order("class", |row| row.text("class"))?;
        let mut by_name = BTreeMap::new();
        let rust = list("CLASSES", "Class", table, |row| {
            let name = row.text("class")?;
            let rubber =
                row.choice("rubber", &[("EPDM", "Epdm"), ("silicone", "Silicone"), ("NBR", "Nbr"), ("CR", "Cr")])?;
            let (least, greatest) = rising(row, "least_c", "greatest_c", RUBBER_C)?;
            let source = sources.of(row)?;
            let limit = format!("Sourced::new(Temperature::celsius({greatest:?}), {source})");
            by_name.insert(name.to_owned(), (rubber, limit));
            Ok(format!(
                "Class {{ name: Cow::Borrowed({name:?}), rubber: Rubber::{rubber}, \
                 least: Temperature::celsius({least:?}), greatest: Temperature::celsius({greatest:?}), \
                 source: {source} }}"
            ))
        })?;
        Ok(Self { rust, by_name })
    }
}

fn hose(row: &Row<'_>, classes: &Classes, sources: &Sources) -> Result<String, Wrong> {
    let class = row.text("class")?;
    let Some((rubber, limit)) = classes.by_name.get(class) else {
        return Err(row.wrong("class", &format!("\"{class}\" is no class of classes.csv")));
    };
    let (bore, wall) = (row.number("bore_mm", BORE_MM)?, row.number("wall_mm", WALL_MM)?);
    Ok(format!(
        "Hose {{ kind: Cow::Borrowed({:?}), sold_as: Cow::Borrowed({:?}), rubber: Some(Rubber::{rubber}), \
         class: Some(Cow::Borrowed({class:?})), limit: Some({limit}), bore: Length::mm({bore:?}), \
         outside: Length::mm({:?}), wire_supported: {}, least_bend_inside: None, creases_at_inside: None, rated: None, \
         sold_by: Some(Length::mm({:?})), own: false, source: {} }}",
        row.text("kind")?,
        row.text("sold_as")?,
        bore + 2.0 * wall,
        row.choice("wire_supported", &[("yes", true), ("no", false)])?,
        row.number("sold_by_mm", SOLD_BY_MM)?,
        sources.of(row)?,
    ))
}

fn bore(row: &Row<'_>, sources: &Sources) -> Result<String, Wrong> {
    let (least, greatest) = rising(row, "least_mm", "greatest_mm", BORE_MM)?;
    Ok(format!(
        "BoreRow {{ nominal: Length::mm({:?}), making: Making::{}, least: Length::mm({least:?}), \
         greatest: Length::mm({greatest:?}), source: {} }}",
        row.number("nominal_mm", BORE_MM)?,
        row.choice("making", &[("A", "RigidMandrel"), ("B", "FlexibleMandrel"), ("C", "NoMandrel")])?,
        sources.of(row)?,
    ))
}

fn clamp(row: &Row<'_>, sources: &Sources) -> Result<String, Wrong> {
    let (least, greatest) = rising(row, "least_mm", "greatest_mm", CLAMP_MM)?;
    let (band_least, band_greatest) = rising(row, "band_least_mm", "band_greatest_mm", BAND_MM)?;
    let kind = row.choice("kind", &[("worm drive", "WormDrive"), ("spring band", "SpringBand")])?;
    let nominal = row.optional_number("nominal_mm", least..=greatest)?;
    if nominal.is_some() != (kind == "SpringBand") {
        return Err(row.wrong("nominal_mm", "a spring band has a nominal diameter, a worm drive clamp has none"));
    }
    Ok(format!(
        "Clamp {{ kind: ClampKind::{kind}, standard: Cow::Borrowed({:?}), size: Cow::Borrowed({:?}), \
         least: Length::mm({least:?}), greatest: Length::mm({greatest:?}), band_least: Length::mm({band_least:?}), \
         band_greatest: Length::mm({band_greatest:?}), nominal: {}, source: {} }}",
        row.text("standard")?,
        row.text("size")?,
        optional_length(nominal),
        sources.of(row)?,
    ))
}

fn torque(row: &Row<'_>, sources: &Sources) -> Result<String, Wrong> {
    let torque = row.number("torque_nm", TORQUE_NM)?;
    let band_from = row.number("band_from_mm", BAND_MM)?;
    Ok(format!(
        "Torque {{ band_from: Length::mm({band_from:?}), tightening: Tightening::{}, torque: Moment::nm({torque:?}), \
         plus_minus: Moment::nm({:?}), band: {}, source: {} }}",
        row.choice("tightening", &[("new hose", "NewHose"), ("again", "Again")])?,
        row.number("plus_minus_nm", 0.0..=torque)?,
        optional_length(row.optional_number("band_mm", band_from..=*BAND_MM.end())?),
        sources.of(row)?,
    ))
}

/// A material row is one number, so that each has its own source.
fn material(row: &Row<'_>, sources: &Sources) -> Result<String, Wrong> {
    let property = row.choice(
        "property",
        &[
            ("coolant density", ("COOLANT_DENSITY", "Density of the coolant, kg/m³.")),
            ("rubber density", ("RUBBER_DENSITY", "Density of hose rubber, kg/m³.")),
            ("rubber hardness", ("RUBBER_HARDNESS", "Hardness of hose rubber, Shore A.")),
        ],
    )?;
    let value = if property.0 == "RUBBER_HARDNESS" {
        row.number("hardness_shore_a", HARDNESS_SHORE_A)?
    } else {
        row.number("density_kg_m3", DENSITY_KG_M3)?
    };
    Ok(format!(
        "/// {}\npub static {}: Sourced<f64> = Sourced::new({value:?}, {});\n",
        property.1,
        property.0,
        sources.of(row)?,
    ))
}

/// Two numbers of which the second is not below the first.
fn rising(
    row: &Row<'_>,
    least: &str,
    greatest: &str,
    bounds: std::ops::RangeInclusive<f64>,
) -> Result<(f64, f64), Wrong> {
    let from = row.number(least, bounds.clone())?;
    Ok((from, row.number(greatest, from..=*bounds.end())?))
}

fn optional_length(mm: Option<f64>) -> String {
    mm.map_or_else(|| "None".to_owned(), |mm| format!("Some(Length::mm({mm:?}))"))
}

/// A table as a static array.
fn list(
    name: &str,
    kind: &str,
    table: &Table,
    mut row_as_rust: impl FnMut(&Row<'_>) -> Result<String, Wrong>,
) -> Result<String, Wrong> {
    let mut rust = String::new();
    let mut count = 0;
    for row in table.rows() {
        writeln!(rust, "    {},", row_as_rust(&row)?).expect("a String takes any text");
        count += 1;
    }
    Ok(format!("pub(crate) static {name}: [{kind}; {count}] = [\n{rust}];\n"))
}
