//! A bounded number of cases of each kind, the same ones every time; and every case that once broke something or showed
//! something new.

use super::{Fate, Met, jobs, links, numbers};
use crate::layouts::Draw;
use std::path::Path;
use stock::Stock;

fn lines(file: &str) -> Vec<String> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz").join(file);
    let text = std::fs::read_to_string(&path).unwrap_or_else(|why| panic!("{}: {why}", path.display()));
    text.lines().map(str::to_owned).collect()
}

/// The two examples and what was kept.
fn pool(kept: &str) -> jobs::Pool {
    jobs::Pool::of([crate::cases::example(), crate::cases::example_car()].into_iter().chain(lines(kept)))
}

/// Holds the claim for `n` draws, and that neither fate is rare: else the claim was hardly tried.
fn always(n: u64, least: u64, mut claim: impl FnMut(&mut Draw) -> Result<Met, String>) {
    let mut accepted = 0;
    for seed in 0..n {
        let met = claim(&mut Draw(seed)).unwrap_or_else(|broken| panic!("seed {seed}: {broken}"));
        accepted += u64::from(met.fate == Fate::Accepted);
    }
    assert!(accepted > least && n - accepted > least, "of {n} {accepted} were accepted");
}

#[test]
fn what_once_showed_something_new_still_holds() {
    let (jobs, solved, links) = (lines("jobs_read.jsonl"), lines("jobs_solved.jsonl"), lines("links.txt"));
    assert!(jobs.len() > 50 && solved.len() > 10 && links.len() > 50, "inputs of every kind are kept");
    for text in jobs.into_iter().chain(solved) {
        jobs::read(&text).unwrap_or_else(|broken| panic!("{broken}\n{text}"));
    }
    for text in links {
        links::read(&links::Drawn::Any(text.clone())).unwrap_or_else(|broken| panic!("{broken}\n{text}"));
    }
}

fn sound_links() -> Vec<links::Sound> {
    let frozen =
        [include_str!("../../links/v1.txt"), include_str!("../../links/v2.txt"), include_str!("../../links/v3.txt")];
    let texts = frozen.into_iter().flat_map(str::lines).filter_map(|line| line.split_once('\t'));
    texts.filter_map(|(link, _)| links::Sound::of(link)).collect()
}

#[test]
fn another_program_wraps_a_link_as_we_do() {
    let sound = sound_links();
    assert!(sound.len() >= 30, "{} frozen links", sound.len());
    for link in sound {
        assert_eq!([false, true].map(|figures| link.bare().wrapped(figures)), *link.texts());
    }
}

#[test]
fn any_damage_to_a_link_is_refused_or_read_whole() {
    let sound = sound_links();
    let bare: Vec<_> = sound.iter().map(|link| link.bare().clone()).collect();
    always(20_000, 500, |draw| {
        let drawn = links::drawn(&sound, &bare, draw);
        links::read(&drawn).map_err(|broken| format!("{broken}\n{drawn:?}"))
    });
}

#[test]
fn any_damage_to_a_job_file_is_refused_or_read_whole() {
    let pool = pool("jobs_read.jsonl");
    always(1500, 20, |draw| {
        let text = pool.damaged(draw);
        jobs::read(&text).map_err(|broken| format!("{broken}\n{text}"))
    });
}

#[test]
fn any_job_that_is_accepted_has_an_answer_of_numbers() {
    let (pool, stock) = (pool("jobs_solved.jsonl"), Stock::built_in());
    always(30, 3, |draw| {
        let text = pool.moved(draw);
        jobs::answered(&text, &stock).map_err(|broken| format!("{broken}\n{text}"))
    });
}

#[test]
fn any_text_is_no_number_or_one_within_bounds() {
    always(20_000, 500, |draw| {
        let text = numbers::drawn(draw);
        numbers::read(&text).map_err(|broken| format!("{broken}\n{text:?}"))
    });
}

#[test]
fn more_things_than_a_hose_can_be_measured_against_are_refused_at_once() {
    let with = |many: usize| {
        crate::cases::changed(&crate::cases::example(), |job| {
            let thing = job["runs"][0]["neighbours"][0].clone();
            job["runs"][0]["neighbours"] = vec![thing; many].into();
        })
    };
    // As many as a file has room for: answered without laying a hose.
    for many in [101, 4000] {
        let report = share::answer(&with(many), &Stock::built_in()).expect("a job file");
        let named: Vec<_> = report.problems.iter().map(|problem| (problem.run, problem.field.as_str())).collect();
        assert_eq!((report.runs.len(), named), (0, vec![(Some(0), "neighbours")]));
    }
    let opened = share::read(&with(100)).expect("a job file");
    assert_eq!(job::accept(&opened.input).job.runs().len(), 1, "a hundred are taken");
}
