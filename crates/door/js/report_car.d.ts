// The report on a whole car: its circuit, closures, order of work, cut list, shopping list, filling.
// A test holds these types to crates/job/src/car.
import type { Basis, ClampReport, HoseReport, Verdict } from './report.js';

/** Where coolant flows in the whole car, and what is wrong with that. */
export interface CircuitReport {
  /** The states that were looked at. */
  states: CircuitState[];
  /** Every part, in the order in which they were typed. */
  parts: FlowReport[];
  /** Every line, in that order. */
  lines: FlowReport[];
  /** What is wrong, the worst first. */
  findings: CircuitFinding[];
}

/** A state of the car: what its thermostat and its taps do. */
export interface CircuitState {
  /** Whether the thermostat is open; null without one. */
  thermostat_open: boolean | null;
  /** The one tap that is shut, by name. */
  tap_shut: string | null;
  /** The same in words, to stand behind a sentence: "with the thermostat shut". */
  what: string;
}

/** When coolant flows through a part or a line. */
export interface FlowReport {
  /** What it is called. */
  name: string;
  /** Whether it is there once the work is done. */
  stays: boolean;
  /** Places among the states of those in which it flows. */
  flows: number[];
  /** Of those in which that cannot be told. */
  unsure: number[];
}

/** Something that is wrong with the circuit. */
export interface CircuitFinding {
  /** "no pump", "role not said", "too many", "no way round", "no flow", "bulb", "not joined", "dead leg", "open end", "two
      on one spigot", "nothing decided" or "something inside". */
  kind: string;
  /** "fail" or "warn". */
  verdict: Verdict;
  /** Places among the states of those in which it is so; empty if states do not matter. */
  states: number[];
  /** These states in words; empty if they do not matter. */
  when: string;
  /** The parts it is about, by name. */
  parts: string[];
  /** The lines it is about, by name. */
  lines: string[];
  /** The spigots it is about. */
  spigots: CircuitSpigot[];
  /** What is wrong and what to do, in plain sentences. */
  why: string;
  /** On whose word. */
  source: string;
  /** What that is worth. */
  basis: Basis;
}

/** A spigot of a part, by name. */
export interface CircuitSpigot {
  /** The part. */
  part: string;
  /** Its spigot. */
  spigot: string;
}

/** The open ends. */
export interface ClosuresReport {
  /** Each open end once, in the order of typing. */
  open: OpenEndReport[];
  /** What not to use on any of them, and why; empty if none is open. */
  not_to_use: SaidReport[];
}

/** An open end. */
export interface OpenEndReport {
  /** The part. */
  part: string;
  /** Its spigot. */
  spigot: string;
  /** The line that is left out, or goes with a part, and so opens it; nothing if none was ever told. */
  opened_by: string | null;
  /** Outside diameter of the spigot. In mm. */
  spigot_mm: number | null;
  /** Straight length that a hose can go on. In mm. */
  straight_mm: number | null;
  /** Straight length that one band needs. In mm. */
  seat_needed_mm: number;
  /** What pushes a closure off at the cap's pressure. In N. */
  push_off_n: number | null;
  /** The ways to close it: the one decided on, then those that do, best first, then those that do not. */
  options: ClosureReport[];
  /** What has to be known to say more. */
  needs: string[];
}

/** One way to close an open end. */
export interface ClosureReport {
  /** "thread plug", "loop", "hose and plug" or "cap". */
  kind: string;
  /** Whether it was decided on. */
  decided: boolean;
  /** "pass", "warn", "fail" or "not checked". */
  verdict: Verdict;
  /** What is done, in a sentence. */
  what: string;
  /** Why it comes out so. */
  why: string;
  /** The thread of the plug. */
  thread: string | null;
  /** Torque of the plug; of a metric one in iron or steel. In N·m. */
  torque_nm: number | null;
  /** Torque of a metric plug in aluminium. In N·m. */
  torque_in_aluminium_nm: number | null;
  /** Where the torque is from, and what that is worth. */
  torque_source: string | null;
  /** The other spigot of a loop. */
  to_spigot: string | null;
  /** The hose as it is asked for, and its kind. */
  hose: string | null;
  /** Bore of the hose, or of the cap. In mm. */
  bore_mm: number | null;
  /** Outside diameter of the hose. In mm. */
  outside_mm: number | null;
  /** Length to cut the hose to; of a loop a run of its own tells it. In mm. */
  hose_mm: number | null;
  /** Diameter of the plug in the hose. In mm. */
  plug_mm: number | null;
  /** Least length of the plug that is in the hose. In mm. */
  plug_long_mm: number | null;
  /** Clamps: a worm drive and a spring band for each end, where there are such; one of each end's is used. */
  clamps: ClampReport[];
  /** On whose word. */
  source: string;
  /** What that is worth. */
  basis: Basis;
}

/** The order of the work. */
export interface OrderReport {
  /** What to do and heed before anything comes off. */
  first: SaidReport[];
  /** What comes off, in this order. */
  off: OrderStepReport[];
  /** What goes on, and when clamps are tightened, in this order. */
  on: OrderStepReport[];
  /** Relations that cannot all hold. */
  knots: KnotReport[];
  /** Lines on a part that comes off of which nothing was said; a question each. */
  ask: string[];
  /** Worth doing while it is open. */
  while_open: SaidReport[];
}

/** One step. */
export interface OrderStepReport {
  /** "take off", "fit" or "tighten". */
  does: string;
  /** To what. */
  things: ThingReport[];
  /** The step in a sentence. */
  what: string;
  /** Place among the knots, if the relations leave no order for these things among themselves. */
  knot: number | null;
}

/** A thing that comes off or goes on. */
export interface ThingReport {
  /** Its name. */
  name: string;
  /** "line", "part", or "thing" for what is neither. */
  is: string;
  /** What becomes of it: "new" if another takes its place, "gone" if nothing does, "back" if it goes on again. */
  then: string;
  /** Why it comes off. */
  why: string;
}

/** Relations that cannot all hold. */
export interface KnotReport {
  /** What is wrong, in a sentence that names each of them. */
  what: string;
  /** The things between which no order is left. */
  things: string[];
  /** The relations of one ring, each leading on to the next and the last to the first. */
  relations: RelationReport[];
}

/** A relation as it was typed. */
export interface RelationReport {
  /** The one. */
  what: string;
  /** "in the way of" or "comes off with". */
  is: string;
  /** The other. */
  of: string;
}

/** The cut list of all runs. */
export interface CutsReport {
  /** What each piece takes beyond its cut: the knife, and trimming square. In mm. */
  allowance_mm: number;
  /** On whose word. */
  source: string;
  /** What that is worth. */
  basis: Basis;
  /** One hose each, in the order of the runs. */
  groups: CutGroupReport[];
  /** Names of the runs that are not in it, since no hose works there at the cut that is told. */
  left_out: string[];
  /** Names of the runs that are not in it, since their lines are kept, left out, or get a moulded hose. */
  not_wanted: string[];
}

/** All pieces of one hose. */
export interface CutGroupReport {
  /** The hose. */
  hose: HoseReport;
  /** What is wanted of it, in the order of the runs. */
  pieces: CutPieceReport[];
  /** What is cut: first what is at hand, then what is to be bought, longest first. */
  lengths: CutLengthReport[];
  /** Pieces, by their place, that are longer than any length there is. */
  too_long: number[];
  /** It is sold in whole steps of this; null if it is sold in certain lengths. In mm. */
  sold_by_mm: number | null;
  /** In one length it is sold up to this; null if it is sold in certain lengths. In mm. */
  longest_mm: number | null;
  /** The lengths it is sold in, if it is. In mm. */
  sold_lengths_mm: number[];
  /** How much is to be bought. In mm. */
  bought_mm: number;
  /** With less it cannot be done; null where the price decides. In mm. */
  at_least_mm: number | null;
  /** What it costs, in the money that was typed, if every price is known. */
  price: number | null;
  /** For less it cannot be had; null unless the price decides. */
  at_least_price: number | null;
  /** Whether it is known that nothing less, and no fewer lengths of as much, would do. */
  proven: boolean;
  /** What was taken for granted because it was not said. */
  assumed: string[];
}

/** A piece that is wanted. */
export interface CutPieceReport {
  /** The place of its run among the runs as they were typed, from 0. */
  run: number;
  /** What the run is called. */
  name: string;
  /** Its cut. In mm. */
  cut_mm: number;
}

/** A length from which pieces are cut. */
export interface CutLengthReport {
  /** How long it is. In mm. */
  length_mm: number;
  /** Whether it is at hand; else it is to be bought. */
  at_hand: boolean;
  /** The pieces from it by their place, longest first. */
  pieces: number[];
  /** What is left of it. In mm. */
  left_mm: number;
}

/** All there is to buy, and what is at hand. */
export interface ShoppingReport {
  /** In the order of their groups. */
  items: ItemReport[];
  /** Names of the runs for which nothing is in it, since no hose works there at the cut that is told. */
  left_out: string[];
}

/** One line of the list. */
export interface ItemReport {
  /** What it is ticked off by; stays while amounts and lengths are changed. */
  key: string;
  /** "at hand", "hose", "clamps", "fittings", "sleeves", "clips", "closures", "moulded hoses", "coolant" or "while it is
      open". */
  group: string;
  /** What to ask for. */
  what: string;
  /** How many, or how much, spares among them. */
  amount: number;
  /** "pieces" or "l". */
  unit: string;
  /** How many of them are spare. */
  spare: number;
  /** How long each is. In mm. */
  length_mm: number | null;
  /** Names of the runs or lines it is for. */
  serves: string[];
  /** On whose word. */
  source: string;
  /** What that is worth. */
  basis: Basis;
}

/** Filling and proving. */
export interface FillReport {
  /** What the work changes of what the system holds. */
  volume: VolumeReport;
  /** What to do, in this order. */
  steps: SaidReport[];
  /** Where to look when it weeps. */
  weeps: WeepReport[];
  /** When to look again. */
  next_looks: NextLookReport[];
}

/** What the work changes of what the system holds. */
export interface VolumeReport {
  /** In the new hoses. In litres. */
  new_l: number;
  /** In what was there before, where that is known. In litres. */
  old_l: number;
  /** In what is left out, where that is known. In litres. */
  left_out_l: number;
  /** What it holds more than before; less if negative. Only lines of which both are known. In litres. */
  change_l: number;
  /** What it holds after the work, if it is known what it held. In litres. */
  holds_l: number | null;
  /** Lines of which bore or length, before or after, is not known: not counted. */
  not_counted: string[];
}

/** Where to look when it weeps so. */
export interface WeepReport {
  /** "cold only", "hot only" or "always". */
  when: string;
  /** Where, the likeliest first. */
  look: SaidReport[];
}

/** When to look again. */
export interface NextLookReport {
  /** So many days after it was filled. */
  after_days: number;
  /** At what. */
  look: SaidReport;
}

/** Something to do, to know or to leave, and on whose word. */
export interface SaidReport {
  /** What it is about, in a word or two that never change: what a tick is kept by. */
  key: string;
  /** The sentence. */
  what: string;
  /** The numbers in it, by name, unit in the name. */
  numbers: [string, number][];
  /** On whose word. */
  source: string;
  /** What that is worth. */
  basis: Basis;
}
