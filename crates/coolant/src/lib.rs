//! What the coolant does: its properties, boiling, freezing, expansion, mixing, and the pressure it loses in a hose.
//!
//! Pure physics: a function here says what happens, never whether that will do. No limits, no verdicts, no catalogue.
//! Each file has its sources at the top, each function its unit, range, error and basis.
//!
//! ```
//! use coolant::{Glycol, Mix, boils_at, freezes_at};
//! use quantity::{Length, Pressure};
//! let half = Mix::new(Glycol::Ethylene, 0.5).unwrap();
//! // Under a cap of 1.1 bar at sea level; a table of boiling points made by other programs reads 130.8.
//! let boils = boils_at(half, Pressure::bar(1.1), Length::mm(0.0)).unwrap();
//! assert!((boils.as_celsius() - 130.8).abs() < 0.05);
//! assert!((freezes_at(half).as_celsius() - -37.0).abs() < 0.1);
//! ```
//!
//! # What is not modelled
//!
//! - **The additives.** Ethylene glycol's density, viscosity and freezing are those of an inhibited coolant, by volume
//!   of concentrate; its boiling, and all of propylene glycol, are those of the pure glycol in water. Glycerol, organic
//!   salts, methanol and waterless coolants are other fluids.
//! - **Age.** Used coolant that has lost water or glycol is what a refractometer says it is, not what was poured.
//! - **Boiling below the boiling point.** A hot spot in the head boils first; a pump lowers the pressure at its inlet.
//!   What [`boils_at`] gives is the temperature at which coolant at the cap's pressure boils as a whole.
//! - **Slush.** Below [`freezes_at`] there is ice in the coolant; it has no density or viscosity here.
//! - **Mixing shrinks** by about 1 %: litres are added as if they did not. Air that stays in is not counted.
//! - **The pump.** [`flow_after`] keeps the pressure across the branch; the pump's and the engine's own curves are unknown.
//! - **Flow near its turn.** Between Reynolds numbers 2000 and 4000 the friction factor is a curve between two laws;
//!   in a bend the flow stays laminar longer. Entrance lengths, pulsation, gas in the flow and wall swelling are left out.
//! - **Heat.** Nothing here warms or cools.

mod boil;
mod branch;
mod fluid;
mod freeze;
mod friction;
mod mix;
mod refill;
mod root;
mod run;

pub use boil::{air_pressure_kpa, boils_at, boils_under, glycol_vapour_kpa, water_boils_at, water_vapour_kpa};
pub use branch::{Rest, flow_after};
pub use fluid::{Fluid, expansion};
pub use freeze::{STRONGEST, freezes_at, least_fraction};
pub use friction::{bend_loss, contraction_loss, expansion_loss, flattened_loss, friction_factor, reynolds};
pub use mix::{Glycol, Mix};
pub use refill::{BadSum, Refill, System, after_rounds, refill, rounds_needed};
pub use run::{Bend, Flat, Loss, Run};
