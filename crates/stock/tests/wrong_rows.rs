//! A wrong row stops the build and the words say where: the build's own reader on damaged copies of the tables.

#[path = "../build/table.rs"]
mod table;
#[path = "../build/tables.rs"]
mod tables;

use std::{fs, path::Path};
use table::Wrong;

/// The tables with one text in one of them replaced, as the build would read them.
fn with(damaged: &str, text: &str, by: &str) -> Result<String, Wrong> {
    tables::as_rust(|file| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("data").join(file);
        let whole = fs::read_to_string(path).map_err(|why| Wrong::file(file, &why.to_string()))?;
        if file != damaged {
            return Ok(whole);
        }
        assert!(whole.contains(text), "{file} has no {text:?} to replace");
        Ok(whole.replacen(text, by, 1))
    })
}

fn check(file: &str, text: &str, by: &str, words: &str) {
    let wrong = with(file, text, by).expect_err(words);
    assert_eq!(wrong.to_string(), words, "{file} with {by:?} for {text:?}");
}

#[test]
fn the_tables_as_they_are_are_right() {
    assert!(with("hoses.csv", "", "").is_ok());
}

#[test]
fn a_wrong_number_is_named_with_file_line_and_column() {
    check(
        "hoses.csv",
        "6,3.5,6 mm,silicone",
        "6,\"3,5\",6 mm,silicone",
        "hoses.csv, line 2, column wall_mm: \"3,5\" is not a number",
    );
    check(
        "hoses.csv",
        "6,3.5,6 mm,EPDM",
        "6,0.14,6 mm,EPDM",
        "hoses.csv, line 3, column wall_mm: 0.14 is not from 2 to 8",
    );
    check("hoses.csv", "\n6,", "\n625,", "hoses.csv, line 2, column bore_mm: 625 is not from 3 to 80");
    check("bores.csv", "3.2,A,3.2", "3.2,A,NaN", "bores.csv, line 2, column least_mm: \"NaN\" is not a number");
    check("bores.csv", "3.2,A,3.2", "3.2,A,3e0", "bores.csv, line 2, column least_mm: \"3e0\" is not a number");
    check("bores.csv", "3.2,A,3.2", "3.2,A,", "bores.csv, line 2, column least_mm: is empty");
    check("bores.csv", "3.2,A,3.2", "3.2,A,4.2", "bores.csv, line 2, column greatest_mm: 3.8 is not from 4.2 to 80");
    check(
        "materials.csv",
        "density,1030",
        "density,1.03",
        "materials.csv, line 2, column density_kg_m3: 1.03 is not from 900 to 1500",
    );
}

#[test]
fn a_wrong_word_is_answered_with_the_right_ones() {
    check("bores.csv", "3.2,A", "3.2,D", "bores.csv, line 2, column making: \"D\" is none of: A, B, C");
    check(
        "classes.csv",
        "A,silicone",
        "A,wood",
        "classes.csv, line 2, column rubber: \"wood\" is none of: EPDM, silicone, NBR, CR",
    );
    check("hoses.csv", "hose,A,", "hose,AA,", "hoses.csv, line 2, column class: \"AA\" is no class of classes.csv");
    check("hoses.csv", "6 mm,", "6 mm ,", "hoses.csv, line 2, column sold_as: has spaces at an end");
    check(
        "clamps.csv",
        "12,12,13,",
        "12,12,,",
        "clamps.csv, line 2, column nominal_mm: a spring band has a nominal diameter, a worm drive clamp has none",
    );
}

#[test]
fn a_row_without_a_source_is_refused() {
    check(
        "bores.csv",
        "iso-1307",
        "iso-9999",
        "bores.csv, line 2, column source: \"iso-9999\" is no key of sources.csv",
    );
    check("bores.csv", "iso-1307", "", "bores.csv, line 2, column source: is empty");
    check(
        "materials.csv",
        "from memory",
        "published",
        "materials.csv, line 3, column basis: published, but its source \"rubber-compounds\" is from memory",
    );
    check(
        "bores.csv",
        "published",
        "certain",
        "bores.csv, line 2, column basis: \"certain\" is none of: published, common practice, from memory, measured, \
         our choice, invented",
    );
    check(
        "sources.csv",
        "\nsae-j2387",
        "\nsae-j2000,a,b,published\nsae-j2387",
        "sources.csv: no row of any table uses the key \"sae-j2000\"",
    );
}

#[test]
fn rows_stand_in_order_and_once() {
    let order = "not sorted by nominal_mm, making, or there twice";
    check("bores.csv", "\n3.2,A", "\n6.1,A", &format!("bores.csv, line 3: {order}"));
    check("bores.csv", "\n4,B", "\n4,A", &format!("bores.csv, line 4: {order}"));
}

#[test]
fn a_table_of_another_shape_is_refused() {
    check(
        "bores.csv",
        "least_mm",
        "least_in",
        "bores.csv, line 1: the columns must be nominal_mm,making,least_mm,greatest_mm,source,basis",
    );
    check("bores.csv", "3.2,A,", "3.2,", "bores.csv, line 2: has 5 cells for 6 columns");
}
