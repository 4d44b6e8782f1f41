//! Reference tables: their rows by column.

use std::collections::BTreeMap;

/// Rows of a table below its comments, by column; cells that are no number, or missing, are left out.
pub(crate) fn rows(text: &str) -> Vec<BTreeMap<String, f64>> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).flexible(true).from_reader(text.as_bytes());
    let names = reader.headers().expect("a head").clone();
    let row = |record: Result<csv::StringRecord, csv::Error>| {
        let record = record.expect("a row");
        let cells = names.iter().zip(&record);
        cells.filter_map(|(name, cell)| Some((name.to_owned(), cell.parse().ok()?))).collect()
    };
    reader.records().map(row).collect()
}
