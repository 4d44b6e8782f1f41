//! How good it is: what other tests find of largest deviations from what is outside the project, as a table for people to read.
//!
//! The tests themselves say it ([`note`]): here they run once more, and what they say is gathered. `docs/how-good.md` and the
//! page `web/public/how-good.html` must read as the table that comes of it; with `HOSEWRIGHT_WRITE=1` they are written.

use crate::tidy::root;
use crate::{closed_forms, coolant_boiling, coolant_flow, coolant_properties, grip, guided_cases, heat, kink};
use crate::{lie_cases, lies_pushed};
use std::cell::RefCell;
use std::fmt::Write;

/// What one comparison, or a whole table, was off by.
#[derive(Clone, Debug)]
struct Noted {
    what: &'static str,
    off: f64,
    within: f64,
    cases: usize,
}

thread_local! {
    /// What the tests of this thread say, while somebody listens.
    static HEARD: RefCell<Option<Vec<Noted>>> = const { RefCell::new(None) };
}

/// Says what so many comparisons were off by at most, and what they are allowed.
pub(crate) fn note(what: &'static str, off: f64, within: f64, cases: usize) {
    HEARD.with_borrow_mut(|heard| {
        if let Some(heard) = heard {
            heard.push(Noted { what, off, within, cases });
        }
    });
}

/// Which of what a test says belongs to a row.
#[derive(Clone, Copy, Debug)]
enum Of {
    /// All that is called so.
    Named(&'static str),
    /// All that is allowed so much.
    Within(f64),
    /// All of it.
    All,
}

/// A row of the table, but for its numbers.
struct Row {
    check: &'static str,
    against: &'static str,
    tests: &'static [fn()],
    of: Of,
    unit: Unit,
    weak: &'static str,
}

#[derive(Clone, Copy, Debug)]
enum Unit {
    /// So many of this unit.
    Of(&'static str),
    /// Told in percent.
    Part,
}

const SHOOTING: &str = "lies solved by shooting and as boundary values, in another language";
const LIES: &[fn()] = &[
    lie_cases::planar_lies_are_those_of_the_shooting_solver,
    lie_cases::spatial_lies_are_those_of_the_shooting_solver,
    lie_cases::lies_under_weight_are_those_of_the_shooting_solver,
];
const FORMS: &[fn()] = &[
    closed_forms::a_buckled_clamped_column_has_the_radius_energy_and_force_of_its_formula,
    closed_forms::the_inflectional_elastica_between_clamps_out_of_balance_is_met,
    closed_forms::helices_are_met,
];
const STIFFNESS: &str = "the stiffness of a hose is not measured: half and twice as stiff is told beside each answer";

const ROWS: &[Row] = &[
    Row {
        check: "How it lies: centre line, on 400 mm of hose",
        against: SHOOTING,
        tests: LIES,
        of: Of::Named("centre line, mm per 400 mm"),
        unit: Unit::Of("mm"),
        weak: STIFFNESS,
    },
    Row {
        check: "How it lies: tightest bend",
        against: SHOOTING,
        tests: LIES,
        of: Of::Named("peak curvature"),
        unit: Unit::Part,
        weak: "the wall is taken as rubber of one kind throughout; the braid is left out",
    },
    Row {
        check: "Force on the spigots",
        against: SHOOTING,
        tests: LIES,
        of: Of::Named("end force"),
        unit: Unit::Part,
        weak: STIFFNESS,
    },
    Row {
        check: "How it lies: centre line, on 400 mm of hose",
        against: "formulas of the buckled column, the elastica between clamps and the helix",
        tests: FORMS,
        of: Of::Named("centre line, mm per 400 mm"),
        unit: Unit::Of("mm"),
        weak: "",
    },
    Row {
        check: "Through clips: centre line, on 400 mm of hose",
        against: "minimisation of the energy by another program",
        tests: &[guided_cases::hoses_through_clips_lie_as_brute_minimisation_says],
        of: Of::Named("centre line, mm per 400 mm"),
        unit: Unit::Of("mm"),
        weak: "a clip is taken to let the hose slide and not to turn it",
    },
    Row {
        check: "Leant on: centre line, on 400 mm of hose",
        against: "shooting, with a force at mid-length",
        tests: &[lies_pushed::pushed_lies_are_those_of_the_shooting_solver],
        of: Of::Named("centre line, mm per 400 mm"),
        unit: Unit::Of("mm"),
        weak: "5 N at the middle is our choice",
    },
    Row {
        check: "Radius at which it kinks",
        against: "Brazier's formula worked out by another program",
        tests: &[kink::every_hose_of_the_tables_kinks_at_the_radius_of_the_reference],
        of: Of::All,
        unit: Unit::Of("mm"),
        weak: "a formula for thin tubes; see the next row",
    },
    Row {
        check: "Radius at which it kinks",
        against: "a finite-element study of ten wall thicknesses",
        tests: &[kink::the_formula_is_that_of_finite_elements_within_five_percent_for_every_wall_of_a_hose],
        of: Of::All,
        unit: Unit::Part,
        weak: "hoses of 10 mm bore and less kink up to 7 % sooner; what is told keeps 30 % clear",
    },
    Row {
        check: "Skin beside something hot, bare and sleeved",
        against: "another program, in one dimension, with the film of hot air",
        tests: &[heat::the_skin_is_as_hot_as_in_the_tables],
        of: Of::Within(0.3),
        unit: Unit::Of("K"),
        weak: "without heat going round the wall: up to 8 K too hot. With what is not known of a bay, 20 K either way",
    },
    Row {
        check: "Coolant that stands still beside something hot",
        against: "finite volumes over the ring of the wall",
        tests: &[heat::coolant_that_stands_still_gets_as_hot_as_on_a_grid],
        of: Of::All,
        unit: Unit::Of("K"),
        weak: "no heat goes along the hose",
    },
    Row {
        check: "Hot air that rises from a pipe",
        against: "the similarity solution by another program",
        tests: &[heat::a_plume_is_as_hot_as_in_the_tables],
        of: Of::Within(0.012),
        unit: Unit::Part,
        weak: "nearer than three diameters of the pipe it is an extrapolation",
    },
    Row {
        check: "Film of air round a hose",
        against: "a library's Churchill and Chu",
        tests: &[heat::still_air_round_a_cylinder_is_that_of_churchill_and_chu],
        of: Of::Within(1e-6),
        unit: Unit::Part,
        weak: "still air: a fan or the road's wind is left out, the safe side",
    },
    Row {
        check: "Air: density, heat, viscosity",
        against: "a library's equation of state",
        tests: &[heat::air_is_that_of_a_reference_equation_of_state],
        of: Of::All,
        unit: Unit::Part,
        weak: "",
    },
    Row {
        check: "Boiling under caps and at heights",
        against: "another program",
        tests: &[coolant_boiling::boiling_under_caps_and_at_heights_is_that_of_another_program],
        of: Of::Named("boiling_points.csv, K"),
        unit: Unit::Of("K"),
        weak: "the same law: see the next row",
    },
    Row {
        check: "Boiling of ethylene glycol and water",
        against: "a handbook's table, 20 to 60 % by mass",
        tests: &[coolant_boiling::boiling_is_near_a_handbooks_table_and_a_producers_constants],
        of: Of::Named("boiling against a handbook's table, 0.2 to 0.6 by mass, K"),
        unit: Unit::Of("K"),
        weak: "mixes by Raoult's law: a little low, the safe side",
    },
    Row {
        check: "Boiling of water",
        against: "a library's IAPWS-IF97",
        tests: &[coolant_boiling::water_boils_where_two_programs_say],
        of: Of::Named("boiling of water against iapws, K"),
        unit: Unit::Of("K"),
        weak: "",
    },
    Row {
        check: "Freezing of ethylene glycol",
        against: "a library's inhibited glycol by volume",
        tests: &[coolant_properties::freezing_is_that_of_the_tables_at_every_row],
        of: Of::Named("freezing of ethylene glycol against CoolProp's AEG by volume, K"),
        unit: Unit::Of("K"),
        weak: "a coolant's own leaflet goes before it",
    },
    Row {
        check: "Density of a mix",
        against: "the published table of inhibited ethylene glycol",
        tests: &[coolant_properties::ethylene_glycol_is_that_of_the_inhibited_table],
        of: Of::Named("density of inhibited ethylene glycol, kg/m3"),
        unit: Unit::Of("kg/m³"),
        weak: "",
    },
    Row {
        check: "Expansion of half and half, of its volume",
        against: "a library",
        tests: &[coolant_properties::expansion_is_that_of_other_programs],
        of: Of::Named("expansion, 50 % ethylene glycol and water"),
        unit: Unit::Of("percent points"),
        weak: "",
    },
    Row {
        check: "Friction in the hose",
        against: "a library's Churchill",
        tests: &[coolant_flow::friction_is_churchills_as_another_library_has_it],
        of: Of::Named("friction against fluids' Churchill"),
        unit: Unit::Of(""),
        weak: "between laminar and turbulent nobody knows it well",
    },
    Row {
        check: "Loss in bends",
        against: "Ito's measurements, bends of 1.5 bores and more",
        tests: &[coolant_flow::bends_are_rennels_as_another_library_has_them],
        of: Of::Named("K against Ito's where it holds, from R/d 1.5, relative"),
        unit: Unit::Part,
        weak: "bends of one bore are held to 35 % only",
    },
    Row {
        check: "What pushes a hose off its spigot",
        against: "the table of another program",
        tests: &[grip::what_pushes_it_off_and_what_it_grips_with_are_those_of_the_table],
        of: Of::Within(0.0501),
        unit: Unit::Of("N"),
        weak: "what holds it against that is a checklist: friction of a clamped hose is not known well",
    },
    Row {
        check: "Suction that flattens a hose",
        against: "the ring's buckling by another program",
        tests: &[grip::every_hose_is_sucked_flat_where_the_ring_of_the_tables_buckles],
        of: Of::Within(5.01e-4),
        unit: Unit::Of("bar"),
        weak: "by the rubber alone: braid and age are left out",
    },
];

/// Two figures, so that the last bits do not show.
fn figures(value: f64) -> String {
    let (mut places, mut shown) = (0, value);
    while shown < 10.0 && places < 12 && value > 0.0 {
        (places, shown) = (places + 1, shown * 10.0);
    }
    format!("{value:.places$}")
}

/// A row with what its tests say: check, against what, how many comparisons, largest deviation, allowed, what is weak.
fn told(row: &Row) -> [String; 6] {
    HEARD.set(Some(Vec::new()));
    row.tests.iter().for_each(|test| test());
    let heard = HEARD.take().unwrap_or_default();
    let belongs = |noted: &&Noted| match row.of {
        Of::Named(name) => noted.what == name,
        Of::Within(within) => noted.within.to_bits() == within.to_bits(),
        Of::All => true,
    };
    let own: Vec<&Noted> = heard.iter().filter(belongs).collect();
    assert!(!own.is_empty(), "{} against {}: nothing was compared", row.check, row.against);
    let share = |noted: &Noted| noted.off / noted.within;
    let worst = own.iter().max_by(|a, b| share(a).total_cmp(&share(b))).expect("one at least");
    let cases: usize = own.iter().map(|noted| noted.cases).sum();
    let with_unit = |value: f64| match row.unit {
        Unit::Of("") => figures(value),
        Unit::Of(unit) => format!("{} {unit}", figures(value)),
        Unit::Part => format!("{} %", figures(100.0 * value)),
    };
    // What is less than a thousandth of what is allowed hangs on the last bits.
    let off = if share(worst) < 1e-3 {
        format!("less than {}", with_unit(1e-3 * worst.within))
    } else {
        with_unit(worst.off)
    };
    [row.check.to_owned(), row.against.to_owned(), cases.to_string(), off, with_unit(worst.within), row.weak.to_owned()]
}

const TITLE: &str = "How good is it?";
const HEAD: [&str; 6] = ["What", "Held against", "Comparisons", "Largest deviation", "Allowed", "What is weak"];
const SAYS: [&str; 3] = [
    "Every number below comes from the tests, which run the checks against things outside the project and fail beyond what is \
     allowed. Where the comparison is worst counts, not the mean.",
    "It says how well the sums are done, and not how well they fit your car: a hose has its own stiffness and set, a tape errs \
     by some millimetres, and the air of an engine bay is anybody's guess. That is what the windows, the chances and the \
     bands of 20 K are for.",
    "An estimate all the same: offer the hose up before you cut it. Never open a hot cooling system.",
];

fn markdown(rows: &[[String; 6]]) -> String {
    let mut text = format!("# {TITLE}\n\n{}\n\n", SAYS.join("\n\n"));
    writeln!(text, "| {} |\n|{}|", HEAD.join(" | "), " --- |".repeat(6).trim_end_matches('|')).expect("a String");
    for row in rows {
        writeln!(text, "| {} |", row.join(" | ")).expect("a String");
    }
    text
}

/// A row on the page: how far off it is at most, what is allowed, how many comparisons, with what; and what is weak.
const FOUND: &str = "At most {1} off ({2} allowed), {3} comparisons with {4}.";
const WEAK: &str = "Weak: {1}.";

/// Every sentence of the page, for the catalogue of other languages.
pub(crate) fn sentences() -> Vec<String> {
    let fixed = [TITLE, PAGE_TITLE, BACK, FOUND, WEAK].into_iter().chain(SAYS);
    let of_rows = ROWS.iter().flat_map(|row| {
        let unit = if let Unit::Of(unit) = row.unit { unit } else { "" };
        [row.check, row.against, row.weak, unit]
    });
    // A unit of one word is the same everywhere.
    fixed.chain(of_rows.filter(|said| said.contains(' '))).map(str::to_owned).collect()
}

const PAGE_TITLE: &str = "Hosewright: How good is it?";
const BACK: &str = "Back";

fn html(rows: &[[String; 6]]) -> String {
    // A list, not a table: it is read on a phone.
    let mut text = format!(
        r#"<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>{PAGE_TITLE}</title>
<link rel="stylesheet" href="style.css">
<script type="module" src="page.js"></script>
</head>
<body>
<header class="tb"><div class="nm"><h1>{TITLE}</h1></div><a class="un" href="./">{BACK}</a></header>
<main>
<section>
"#
    );
    SAYS.iter().for_each(|says| writeln!(text, "<p class=\"note\">{says}</p>").expect("a String"));
    text += "</section>\n";
    let fill = |said: &str, slots: &[&String]| {
        slots.iter().enumerate().fold(said.to_owned(), |said, (i, slot)| said.replace(&format!("{{{}}}", i + 1), slot))
    };
    for [check, against, cases, off, allowed, weak] in rows {
        let found = fill(FOUND, &[off, allowed, cases, against]);
        let weak = if weak.is_empty() { String::new() } else { format!("<p>{}</p>", fill(WEAK, &[weak])) };
        writeln!(text, "<section><h2>{check}</h2><p>{found}</p>{weak}</section>").expect("a String");
    }
    text + "</main>\n</body>\n</html>\n"
}

#[test]
fn the_table_for_people_is_what_the_tests_find() {
    let rows: Vec<_> = ROWS.iter().map(told).collect();
    for (path, text) in [("docs/how-good.md", markdown(&rows)), ("web/public/how-good.html", html(&rows))] {
        let path = root().join(path);
        if std::env::var_os("HOSEWRIGHT_WRITE").is_some() {
            std::fs::create_dir_all(path.parent().expect("a folder")).expect("made");
            std::fs::write(&path, &text).expect("written");
        }
        let kept = std::fs::read_to_string(&path).unwrap_or_default();
        assert!(kept == text, "{} is not what the tests find; HOSEWRIGHT_WRITE=1 writes it anew", path.display());
    }
}

#[test]
fn two_figures_are_told() {
    let told = [0.0, 0.000_123_4, 0.29, 3.21, 45.6, 1234.0].map(figures);
    assert_eq!(told, ["0", "0.00012", "0.29", "3.2", "46", "1234"]);
}

#[test]
fn what_nobody_listens_to_is_not_kept() {
    note("anything", 1.0, 2.0, 1);
    assert!(HEARD.with_borrow(Option::is_none));
}
