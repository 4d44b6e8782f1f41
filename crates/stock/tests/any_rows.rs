//! Any damage to the tables stops the build with a sentence that names the file, or leaves tables that are sound.

#[path = "../build/table.rs"]
mod table;
#[path = "../build/tables.rs"]
mod tables;

mod damaged;

use proptest::prelude::Rng;
use proptest::test_runner::{RngAlgorithm, TestRng};
use std::path::Path;

#[test]
fn any_damage_is_named_or_leaves_sound_tables() {
    let whole = damaged::files(&Path::new(env!("CARGO_MANIFEST_DIR")).join("data"));
    assert!(whole.len() >= 7, "every table");
    let mut rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    let (mut taken, mut refused) = (0, 0);
    for case in 0..3000 {
        let mut pick = |n: usize| usize::try_from(rng.next_u32()).expect("32 bits") % n.max(1);
        let (file, files) = damaged::damaged(whole.clone(), &mut pick);
        match damaged::read(&files).unwrap_or_else(|broken| panic!("case {case}, {file}: {broken}\n{}", files[&file])) {
            true => taken += 1,
            false => refused += 1,
        }
    }
    assert!(taken > 100 && refused > 1000, "{taken} taken, {refused} refused");
}
