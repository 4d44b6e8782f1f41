// The job file of a whole car: parts, the lines that join them, what is in the way, hose at hand, the log.
// Everything is referred to by its name. A test holds these types to crates/job/src/input/car.rs.
import type { BeadInput, OnInput } from './job.js';

/** Something that coolant goes through, or that only closes or divides a line. */
export interface PartInput {
  /** What it is called; no two parts share a name. */
  name: string;
  /** What it is. */
  kind: PartKindInput;
  /** Its spigots. */
  spigots?: PortInput[] | null;
  /** To what it is bolted. */
  on?: OnInput | null;
  /** When coolant must go through it; absent: as its kind needs. */
  needs_flow?: NeedsInput | null;
  /** Whether it is taken out of the car, with all that is on it. */
  leave_out?: boolean | null;
  /** A note. */
  note?: string | null;
}

/** A spigot of a part. */
export interface PortInput {
  /** What it is called; no two spigots of a part share a name. */
  name: string;
  /** Outside diameter where the hose sits. In mm. */
  spigot_mm?: number | null;
  /** Diameter of the bead, or "none". In mm. */
  bead_mm?: BeadInput | null;
  /** Straight length that a hose can go on. In mm. */
  straight_mm?: number | null;
  /** The thread by which it stands in the part, as M16x1.5, if it can be screwed out. */
  thread?: string | null;
  /** What it is made of. */
  made_of?: string | null;
  /** What it does in a pump, a thermostat or a non-return valve. */
  role?: RoleInput | null;
  /** How it is, or will be, closed if no line is on it. */
  closed_by?: ClosureInput | null;
}

/** What joins two spigots. */
export interface LineInput {
  /** What it is called; no two lines share a name. */
  name: string;
  /** What it is. */
  kind: LineKindInput;
  /** The spigot it begins on. */
  from: PortAtInput;
  /** The spigot it ends on. */
  to: PortAtInput;
  /** Its bore. In mm. */
  bore_mm?: number | null;
  /** Its length. In mm. */
  length_mm?: number | null;
  /** What state it is in. */
  state?: StateInput | null;
  /** What can be bought in its place. */
  can_buy?: CanBuyInput | null;
  /** What is done with it. */
  decision?: DecisionInput | null;
  /** The run that sizes the hose in its place, by name. */
  run?: string | null;
  /** What was found inside it, as a restrictor. */
  inside?: string | null;
  /** A note. */
  note?: string | null;
}

/** A spigot of a part, by name. */
export interface PortAtInput {
  /** The part. */
  part: string;
  /** Its spigot. */
  spigot: string;
}

/** That something is in the way of something else, or comes off with it. Names of lines, parts, or of anything else. */
export interface RelationInput {
  /** The one. */
  what: string;
  /** In which relation. */
  is: RelationKindInput;
  /** To the other. */
  of: string;
}

/** A hose at hand, or for sale. */
export interface StockInput {
  /** Its bore. In mm. */
  bore_mm: number;
  /** Its wall; absent: any hose of the bore. In mm. */
  wall_mm?: number | null;
  /** Sound pieces at hand. In mm. */
  pieces_mm?: number[] | null;
  /** It is sold in steps of this length. In mm. */
  sold_by_mm?: number | null;
  /** The longest length one can buy in one piece. In mm. */
  longest_mm?: number | null;
  /** What it costs, in any money. In money a metre. */
  price_per_m?: number | null;
  /** It is sold in these lengths only. */
  lengths?: LengthSoldInput[] | null;
}

/** A length that is sold. */
export interface LengthSoldInput {
  /** How long it is. In mm. */
  length_mm: number;
  /** What it costs, in the same money. */
  price?: number | null;
}

/** What is kept of the work itself. */
export interface SystemInput {
  /** Lines of the lists that were ticked off, as the page names them. */
  ticked?: string[] | null;
  /** What was done and when. */
  log?: LogInput[] | null;
}

/** An entry of the log. */
export interface LogInput {
  /** The day, as 2026-11-26. */
  on: string;
  /** What was done. */
  what: string;
  /** When to look again, as a day. */
  look_again?: string | null;
}

/** What a part is. */
export type PartKindInput =
  | 'pump' | 'block' | 'head' | 'radiator' | 'heater core' | 'expansion bottle' | 'thermostat' | 'throttle body'
  | 'oil cooler' | 'vaporiser' | 'tee' | 'tap' | 'restrictor' | 'bleed screw' | 'non-return valve' | 'joiner'
  | 'steel line' | 'other';

/** What a spigot does. */
export type RoleInput = 'inlet' | 'outlet' | 'valve' | 'bypass';

/** How an open spigot is closed. */
export type ClosureInput = 'thread plug' | 'cap' | 'hose and plug' | 'blank';

/** When coolant must go through a part. */
export type NeedsInput = 'always' | 'thermostat open' | 'no';

/** What a line is. */
export type LineKindInput = 'hose' | 'moulded hose' | 'steel line' | 'passage';

/** What state a line is in. */
export type StateInput = 'sound' | 'soft' | 'cracked' | 'weeping' | 'rusted' | 'missing';

/** What can be bought in place of a line. */
export type CanBuyInput = 'moulded hose' | 'straight hose' | 'nothing';

/** What is done with a line. */
export type DecisionInput = 'keep' | 'moulded hose' | 'universal hose' | 'leave out';

/** In which relation two things stand. */
export type RelationKindInput = 'in the way of' | 'comes off with';
