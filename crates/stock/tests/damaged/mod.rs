//! Tables with anything in them, read as the build would: refused by a sentence that names the file, or taken.

use crate::table::Wrong;
use crate::tables;
use std::collections::BTreeMap;
use std::{fs, path::Path};

/// Every file of the data folder, by its name.
pub(crate) fn files(data: &Path) -> BTreeMap<String, String> {
    let entries = fs::read_dir(data).unwrap_or_else(|why| panic!("{}: {why}", data.display()));
    let paths = entries.map(|entry| entry.expect("an entry").path());
    let csv = paths.filter(|path| path.extension().is_some_and(|extension| extension == "csv"));
    csv.map(|path| {
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        (name, fs::read_to_string(&path).expect("a table is text"))
    })
    .collect()
}

/// What stands in a cell or between two, and what does not.
const CELLS: [&str; 20] = [
    "",
    ",",
    "\"",
    "\n",
    "\r\n",
    "0",
    "-0",
    "1e400",
    "NaN",
    "inf",
    "1e-400",
    "16",
    "-1",
    "\u{0}",
    "\u{feff}",
    "\u{202e}",
    "EPDM",
    "published",
    "A",
    "99999999999999999999",
];

/// The tables with one to three slips in one of them, and which; `pick` gives one of so many.
pub(crate) fn damaged(
    mut files: BTreeMap<String, String>,
    pick: &mut dyn FnMut(usize) -> usize,
) -> (String, BTreeMap<String, String>) {
    let name = files.keys().nth(pick(files.len())).cloned().expect("a file");
    let text = files.get_mut(&name).expect("the file of that name");
    for _ in 0..=pick(3) {
        let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
        let at = pick(lines.len());
        let to = pick(lines.len());
        match pick(6) {
            0 => drop(lines.remove(at)),
            1 => lines.insert(to, lines[at].clone()),
            2 => lines.swap(at, to),
            _ => {
                let mut cells: Vec<&str> = lines[at].split(',').collect();
                let place = pick(cells.len());
                match pick(4) {
                    0 => drop(cells.remove(place)),
                    1 => cells.insert(place, CELLS[pick(CELLS.len())]),
                    _ => cells[place] = CELLS[pick(CELLS.len())],
                }
                lines[at] = cells.join(",");
            }
        }
        *text = lines.join("\n") + "\n";
    }
    (name, files)
}

/// Whether the tables were taken; what is refused must be named by file.
pub(crate) fn read(files: &BTreeMap<String, String>) -> Result<bool, String> {
    let open = |file: &str| files.get(file).cloned().ok_or_else(|| Wrong::file(file, "is not there"));
    match tables::as_rust(open) {
        // Between the quotes stand names and titles.
        Ok(rust) if rust.split('"').step_by(2).any(|code| code.contains("NaN") || code.contains("inf")) => {
            Err("a number that is none".to_owned())
        }
        Ok(_) => Ok(true),
        Err(wrong) => {
            let words = wrong.to_string();
            if files.keys().any(|file| words.starts_with(file.as_str())) { Ok(false) } else { Err(words) }
        }
    }
}
