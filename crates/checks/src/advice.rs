//! Which rubber, and what not to use: by coolant, heat and oil, with the reason and whose word it is.

use crate::Kind;
use crate::Neighbour;
use quantity::{Basis, Source};
use stock::{Hose, Rubber};

/// A piece of advice on the material.
#[derive(Clone, Debug, PartialEq)]
pub struct Advice {
    /// What to take or leave, and why.
    pub what: &'static str,
    /// On whose word.
    pub source: Source,
}

const J20: Source =
    Source::new("SAE J20:2022, classes A, B, C and D-1 to D-3, as a summary of it gives them", Basis::Published);
const TRADE: Source = Source::new("trade and workshop pages agree", Basis::CommonPractice);
const SCOPE: Source =
    Source::new("SAE J30 is fuel and oil hose, J517 hydraulic hose: their scope lines", Basis::Published);
const FITTING: Source =
    Source::new("a classic-car article; agrees with polymer practice: mineral oil swells EPDM", Basis::CommonPractice);
const CAPS: Source =
    Source::new("reports of caps that burst at heat soak, and one maker's page", Basis::CommonPractice);
const DRIP: Source = Source::new("silicone sweats and swells in oil and fuel; trade pages", Basis::CommonPractice);

/// Advice on the material of a run with this hose.
#[must_use]
pub fn advice(hose: &Hose, neighbours: &[Neighbour], oil: Option<bool>) -> Vec<Advice> {
    let mut said = Vec::new();
    let mut say = |what, source: &Source| said.push(Advice { what, source: source.clone() });
    let hot = neighbours.iter().any(|thing| matches!(thing.kind, Kind::Hot(_)));
    match (hose.rubber, oil) {
        (Some(Rubber::Epdm), Some(true)) => {
            say(
                "Oil reaches it and EPDM swells in oil: cure the leak first, or take an NBR or CR hose (SAE J20 class B or C, to 100 °C)",
                &TRADE,
            );
        }
        (Some(Rubber::Silicone), Some(true)) => {
            say("Oil reaches it, and silicone does not stand oil or fuel: cure the leak first", &DRIP);
        }
        (Some(Rubber::Nbr | Rubber::Cr), Some(true)) => {
            say("It stands oil; coolant and heat wear it sooner than EPDM, and it is good to 100 °C only", &J20);
        }
        (Some(Rubber::Nbr | Rubber::Cr), _) => {
            say("Without oil near, EPDM stands coolant and heat longer: to 125 or 150 °C, this one to 100 °C", &J20);
        }
        (Some(Rubber::Epdm), _) if hot => {
            say(
                "EPDM stands coolant with either glycol; where it gets too hot, class D-3 bears 150 °C and silicone 175 °C, for long",
                &J20,
            );
        }
        (Some(Rubber::Epdm), _) => {
            say("EPDM stands coolant with either glycol, to 125 °C for long, class D-3 to 150 °C", &J20)
        }
        (Some(Rubber::Silicone), _) => {
            say(
                "Silicone bears 175 °C and lasts; it is softer: take lined or spring clamps, plain slotted bands cut it",
                &TRADE,
            );
        }
        (None, _) => {
            say("Use a hose marked for coolant (SAE J20 or DIN 73411): what the rubber is decides what it bears", &J20)
        }
    }
    say("No fuel, vacuum, air or hydraulic hose for hot coolant: it is made for another fluid and less heat", &SCOPE);
    say(
        "No unreinforced rubber cap or vacuum cap on a coolant stub: without yarn it bursts, mostly just after switching off",
        &CAPS,
    );
    if hose.rubber != Some(Rubber::Nbr) {
        say(
            "Wet it with coolant or soapy water to slide it on, or silicone spray on EPDM; no mineral oil or grease",
            &FITTING,
        );
    }
    said
}
