//! Job files of every version that was given out: each is read without a problem and written back to an equal job.

use serde_json::Value;
use std::path::{Path, PathBuf};

/// The files of a version.
fn files(version: u64) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("files/v{version}"));
    let entries = std::fs::read_dir(&folder).unwrap_or_else(|why| panic!("{}: {why}", folder.display()));
    let mut files: Vec<_> = entries.map(|entry| entry.expect("an entry").path()).collect();
    files.retain(|path| path.extension().is_some_and(|extension| extension == "json"));
    files.sort();
    files
}

/// Without what says nothing, and all numbers as the decimals they are.
fn says(value: &Value) -> Value {
    let nothing = |value: &Value| match value {
        Value::Null => true,
        Value::Array(list) => list.is_empty(),
        Value::Object(object) => object.is_empty(),
        _ => false,
    };
    match value {
        Value::Array(list) => list.iter().map(says).collect(),
        Value::Object(object) => {
            let said = object.iter().map(|(name, value)| (name.clone(), says(value)));
            said.filter(|(_, value)| !nothing(value)).collect()
        }
        Value::Number(number) => number.as_f64().into(),
        other => other.clone(),
    }
}

#[test]
fn a_file_of_every_version_is_read_and_written_back_to_an_equal_job() {
    for version in 1..=share::VERSION {
        let files = files(version);
        assert!(files.len() >= 2, "of version {version} there are a run and a car");
        for path in files {
            let name = path.display();
            let text = std::fs::read_to_string(&path).unwrap_or_else(|why| panic!("{name}: {why}"));
            let opened = share::read(&text).unwrap_or_else(|why| panic!("{name}: {why}"));
            assert!(opened.problems.is_empty(), "{name}: {:?}", opened.problems);
            let accepted = job::accept(&opened.input);
            assert!(accepted.problems.is_empty(), "{name}: {:?}", accepted.problems);
            let written = share::write(&opened.input);
            let [before, after]: [Value; 2] =
                [&text, &written].map(|text| serde_json::from_str(text).expect("JSON, by another reader"));
            assert_eq!(before["version"], version, "{name}");
            // A newer program writes its own version, and all else as it was.
            let but_version = |value: &Value| {
                let mut said = says(value);
                said["version"] = Value::Null;
                said
            };
            assert_eq!(but_version(&before), but_version(&after), "{name}");
            assert_eq!(share::write(&share::read(&written).expect("a job file").input), written, "{name}");
        }
    }
}
