//! What to pour: from what was typed of the system to litres of concentrate and water.

use crate::Job;
use crate::accept::Reader;
use crate::input::{ConditionsInput, RefillInput};
use crate::report::{CoolantReport, RefillReport};
use coolant::{Glycol, Mix, STRONGEST, System, boils_at, expansion, freezes_at, least_fraction, refill};
use quantity::{Length, Pressure, Temperature, Volume};

/// What is known of the refill.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Refill {
    glycol: Glycol,
    system: System,
    /// Volume fraction that is wanted, 60 % at most.
    wanted: f64,
    /// Volume fraction of what is poured.
    poured: f64,
    cap: Option<Pressure>,
    altitude: Length,
    coolant: Temperature,
}

/// Strength until frost is said: common practice.
const HALF: f64 = 0.5;
/// The coolant is filled in at this temperature.
const COLD: Temperature = Temperature::celsius(20.0);

impl Refill {
    /// From what was typed; nothing as long as it is not known what the system holds.
    pub(crate) fn accept(
        typed: &ConditionsInput,
        conditions: &checks::Conditions,
        glycol: Glycol,
        reader: &mut Reader,
    ) -> Option<Self> {
        let RefillInput { holds_l, left_l, left_percent, protect_to_c, pre_mix_percent } = typed.refill.as_ref()?;
        let field = |name: &str| format!("conditions.refill.{name}");
        let holds = reader.number(&field("holds_l"), (*holds_l)?, (0.5, 100.0))?;
        let left = left_l.map_or(Some(0.0), |left| reader.number(&field("left_l"), left, (0.0, 100.0)))?;
        if left > holds {
            reader.note(
                false,
                &field("left_l"),
                "more stays than the system holds",
                "what stays in the block when it is drained",
            );
            return None;
        }
        let percent = |name: &str, value: Option<f64>, otherwise: f64, least: f64, reader: &mut Reader| {
            value
                .map_or(Some(otherwise), |value| reader.number(&field(name), value, (least, 100.0)))
                .map(|percent| percent / 100.0)
        };
        let left_strength = percent("left_percent", *left_percent, 0.0, 0.0, reader)?;
        let poured = percent("pre_mix_percent", *pre_mix_percent, 100.0, 5.0, reader)?;
        let wanted = match protect_to_c {
            None => {
                let typed = typed.coolant.as_ref().map_or(HALF, |mix| mix.percent_by_volume / 100.0);
                Mix::new(glycol, typed.min(STRONGEST)).map_or(HALF, Mix::fraction)
            }
            Some(frost) => {
                let frost = reader.number(&field("protect_to_c"), *frost, (-80.0, 20.0))?;
                let Some(least) = least_fraction(glycol, Temperature::celsius(frost)) else {
                    let strongest = Mix::new(glycol, STRONGEST).map_or(frost, |mix| freezes_at(mix).as_celsius());
                    let right = format!("{strongest:.0} °C or warmer: stronger coolant freezes earlier again");
                    reader.note(false, &field("protect_to_c"), "no mix stands so much frost", right);
                    return None;
                };
                least
            }
        };
        let system = System { holds: Volume::litres(holds), left: Volume::litres(left), left_strength };
        let altitude = Length::mm(1e3 * typed.altitude_m.unwrap_or(0.0));
        Some(Self { glycol, system, wanted, poured, cap: conditions.cap, altitude, coolant: conditions.coolant })
    }

    /// What the system holds when full.
    pub(crate) fn holds(&self) -> Volume {
        self.system.holds
    }

    /// Height above the sea.
    pub(crate) fn altitude(&self) -> Length {
        self.altitude
    }

    /// Whether it is mixed ready, and how strong; else it is concentrate.
    pub(crate) fn ready_mix(&self) -> Option<f64> {
        (self.poured < 1.0).then_some(self.poured)
    }

    /// Which glycol, as one asks for it.
    pub(crate) fn glycol(&self) -> &'static str {
        match self.glycol {
            Glycol::Ethylene => "ethylene",
            Glycol::Propylene => "propylene",
        }
    }

    /// How much there is to fill once what `drain` says has been drained, too.
    pub(crate) fn fills_l(&self, drain: f64) -> f64 {
        (self.system.holds - self.system.left).as_litres() + drain
    }

    pub(crate) fn told(&self) -> Option<RefillReport> {
        use coolant::Refill as Sum;
        let tenth = |litres: Volume| (litres.as_litres() * 10.0).round() / 10.0;
        // A little more concentrate than the bare least, never less.
        let up = |litres: Volume| (litres.as_litres() * 10.0 - 1e-6).ceil() / 10.0;
        let percent = |fraction: f64| (fraction * 1000.0).round() / 10.0;
        let exact = refill(&self.system, self.wanted, self.poured).ok()?;
        let (holds, left) = (self.system.holds, self.system.left);
        let fills = tenth(holds - left);
        let name = if self.poured < 1.0 { "ready mix" } else { "concentrate" };
        let mut told = RefillReport { wanted_percent: percent(self.wanted), ..RefillReport::default() };
        let ends = match exact {
            Sum::Pour { poured, .. } => {
                let pour = up(poured).min((holds - left).as_litres());
                let water = ((holds - left).as_litres() - pour).max(0.0);
                "pour".clone_into(&mut told.kind);
                told.pour_l = Some(pour);
                told.water_l = Some((water * 10.0).round() / 10.0);
                told.what = format!("Pour in {pour:.1} l of {name} and {water:.1} l of water.");
                (self.system.left_strength * left.as_litres() + self.poured * pour) / holds.as_litres()
            }
            Sum::OnlyWater { ends_at, leave_at_most, .. } => {
                "only water".clone_into(&mut told.kind);
                told.pour_l = Some(0.0);
                told.water_l = Some(fills);
                told.leave_at_most_l = Some(tenth(leave_at_most));
                told.what = format!(
                    "What stays is strong enough: fill up with {fills:.1} l of water. It ends stronger than asked."
                );
                ends_at
            }
            Sum::DrainMore { leave_at_most, drain, ends_at } => {
                let drain = up(drain);
                "drain more".clone_into(&mut told.kind);
                told.drain_l = Some(drain);
                told.leave_at_most_l = Some((leave_at_most.as_litres() * 10.0).floor() / 10.0);
                told.what = format!(
                    "Too much weak coolant stays in it: drain {drain:.1} l more, then fill up with {name} alone. Filled as it is it \
                     ends at {:.0} %.",
                    percent(ends_at)
                );
                ends_at
            }
            Sum::PouredTooWeak { ends_at } => {
                "too weak".clone_into(&mut told.kind);
                told.what = format!(
                    "This ready mix is too weak: nothing filled up with it gets there. It ends at {:.0} %. Take concentrate.",
                    percent(ends_at)
                );
                ends_at
            }
        };
        told.ends_percent = percent(ends);
        // Between the strongest that is known and pure concentrate nothing is promised.
        if let Some(mix) = Mix::new(self.glycol, ends.min(STRONGEST)).filter(|_| ends <= STRONGEST + 1e-9) {
            told.freezes_c = Some((freezes_at(mix).as_celsius() * 10.0).round() / 10.0);
            let boils = self.cap.and_then(|cap| boils_at(mix, cap, self.altitude));
            told.boils_c = boils.map(|boils| (boils.as_celsius() * 10.0).round() / 10.0);
            let grows = expansion(mix, COLD, self.coolant).map(|part| part * holds.as_litres());
            told.grows_l = grows.map(|grows| (grows * 100.0).round() / 100.0);
        }
        Some(told)
    }
}

/// What the coolant does as it is.
pub(crate) fn coolant(job: &Job) -> CoolantReport {
    let conditions = &job.conditions;
    let rounded = |x: f64, of: f64| (x * of).round() / of;
    let glycol = match job.mix.glycol() {
        Glycol::Ethylene => "ethylene",
        Glycol::Propylene => "propylene",
    };
    CoolantReport {
        glycol: glycol.to_owned(),
        percent: rounded(100.0 * job.mix.fraction(), 10.0),
        freezes_c: rounded(freezes_at(job.mix).as_celsius(), 10.0),
        boils_c: conditions.boils.map(|boils| rounded(boils.as_celsius(), 10.0)),
        hot_c: conditions.coolant.as_celsius(),
        grows_percent: expansion(job.mix, COLD, conditions.coolant).map(|part| rounded(100.0 * part, 10.0)),
        density_kg_m3: conditions.fluid.as_ref().map(|fluid| rounded(fluid.density, 1.0)),
    }
}
