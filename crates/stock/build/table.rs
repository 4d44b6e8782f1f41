//! One table: its rows, cells asked for by column, and where and why a cell is wrong.

use quantity::Basis;
use std::fmt;
use std::ops::RangeInclusive;

/// What is wrong with a table, and where.
#[derive(Debug)]
pub(crate) struct Wrong(String);

impl Wrong {
    /// Something about a whole file.
    pub(crate) fn file(file: &str, what: &str) -> Self {
        Self(format!("{file}: {what}"))
    }

    /// Something about a whole line.
    fn line(file: &str, line: u64, what: &str) -> Self {
        Self(format!("{file}, line {line}: {what}"))
    }
}

impl fmt::Display for Wrong {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// A table as it stands in its file.
pub(crate) struct Table {
    file: &'static str,
    columns: &'static [&'static str],
    rows: Vec<(u64, csv::StringRecord)>,
}

/// One row of a table.
pub(crate) struct Row<'a> {
    table: &'a Table,
    line: u64,
    cells: &'a csv::StringRecord,
}

impl Table {
    /// Reads a table that must have exactly these columns, in this order.
    pub(crate) fn read(file: &'static str, columns: &'static [&'static str], text: &str) -> Result<Self, Wrong> {
        let mut reader = csv::ReaderBuilder::new().flexible(true).from_reader(text.as_bytes());
        let heads = reader.headers().map_err(|why| Wrong::file(file, &why.to_string()))?;
        if heads.iter().ne(columns.iter().copied()) {
            return Err(Wrong::line(file, 1, &format!("the columns must be {}", columns.join(","))));
        }
        let mut rows = Vec::new();
        for record in reader.records() {
            let cells = record.map_err(|why| Wrong::file(file, &why.to_string()))?;
            let line = cells.position().map_or(0, csv::Position::line);
            if cells.len() != columns.len() {
                let what = format!("has {} cells for {} columns", cells.len(), columns.len());
                return Err(Wrong::line(file, line, &what));
            }
            rows.push((line, cells));
        }
        Ok(Self { file, columns, rows })
    }

    /// The rows in the order of the file.
    pub(crate) fn rows(&self) -> impl Iterator<Item = Row<'_>> {
        self.rows.iter().map(|(line, cells)| Row { table: self, line: *line, cells })
    }

    /// Every row must stand after the one before it: sorted, and none twice.
    pub(crate) fn in_order<'a, K: PartialOrd>(
        &'a self,
        key_columns: &str,
        key: impl Fn(&Row<'a>) -> Result<K, Wrong>,
    ) -> Result<(), Wrong> {
        let mut before = None;
        for row in self.rows() {
            let this = key(&row)?;
            if before.is_some_and(|before| before >= this) {
                let what = format!("not sorted by {key_columns}, or there twice");
                return Err(Wrong::line(self.file, row.line, &what));
            }
            before = Some(this);
        }
        Ok(())
    }
}

impl<'a> Row<'a> {
    /// Something about one cell of this row.
    pub(crate) fn wrong(&self, column: &str, what: &str) -> Wrong {
        Wrong(format!("{}, line {}, column {column}: {what}", self.table.file, self.line))
    }

    /// The cell, or `None` when it is empty.
    pub(crate) fn optional(&self, column: &str) -> Result<Option<&'a str>, Wrong> {
        let at = self.table.columns.iter().position(|name| *name == column);
        let cell = &self.cells[at.expect("only columns that were checked in the first line are asked for")];
        if cell != cell.trim() {
            return Err(self.wrong(column, "has spaces at an end"));
        }
        Ok(Some(cell).filter(|cell| !cell.is_empty()))
    }

    /// The cell, which must not be empty.
    pub(crate) fn text(&self, column: &str) -> Result<&'a str, Wrong> {
        self.optional(column)?.ok_or_else(|| self.wrong(column, "is empty"))
    }

    /// The cell as a number within these bounds, or `None` when it is empty.
    pub(crate) fn optional_number(&self, column: &str, bounds: RangeInclusive<f64>) -> Result<Option<f64>, Wrong> {
        let Some(text) = self.optional(column)? else { return Ok(None) };
        let plain = text.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '-'));
        match text.parse::<f64>() {
            Ok(number) if plain && bounds.contains(&number) => Ok(Some(number)),
            Ok(_) if plain => {
                Err(self.wrong(column, &format!("{text} is not from {} to {}", bounds.start(), bounds.end())))
            }
            _ => Err(self.wrong(column, &format!("\"{text}\" is not a number"))),
        }
    }

    /// The cell as a number within these bounds.
    pub(crate) fn number(&self, column: &str, bounds: RangeInclusive<f64>) -> Result<f64, Wrong> {
        self.optional_number(column, bounds)?.ok_or_else(|| self.wrong(column, "is empty"))
    }

    /// What the cell's word stands for.
    pub(crate) fn choice<T: Copy>(&self, column: &str, words: &[(&str, T)]) -> Result<T, Wrong> {
        let text = self.text(column)?;
        words.iter().find(|(word, _)| *word == text).map(|(_, meaning)| *meaning).ok_or_else(|| {
            let words: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
            self.wrong(column, &format!("\"{text}\" is none of: {}", words.join(", ")))
        })
    }

    /// The basis of this row.
    pub(crate) fn basis(&self) -> Result<Basis, Wrong> {
        self.choice("basis", &Basis::ALL.map(|basis| (basis.as_str(), basis)))
    }
}
