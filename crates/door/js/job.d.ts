// The job file, field by field. Units stand in the field names and are said with each field.
// Axes of the car: x forward, y to the left, z up. What is absent or null is not known. A field of another name is refused.
// A test holds these types to crates/job/src/input.rs.
import type { LineInput, PartInput, RelationInput, StockInput, SystemInput } from './job_car.js';

/** A place or direction, along x, y, z. */
export type Triple = [number, number, number];

/** A whole job. */
export interface Job {
  /** What kind of file it is. */
  format: 'hosewright-job';
  /** Version of the form. */
  version: 1;
  /** What the car is called. */
  car?: string | null;
  /** What holds for the whole car. */
  conditions?: ConditionsInput | null;
  /** The runs. */
  runs: RunInput[];
  /** What coolant goes through, and what its spigots are. */
  parts?: PartInput[] | null;
  /** What joins them. */
  lines?: LineInput[] | null;
  /** What must come off first, or with another. */
  relations?: RelationInput[] | null;
  /** Hose at hand and hose for sale. */
  stock?: StockInput[] | null;
  /** What is kept of the work itself. */
  system?: SystemInput | null;
}

/** What holds for the whole car. */
export interface ConditionsInput {
  /** Opening pressure of the cap, gauge. In kPa. */
  cap_kpa?: number | null;
  /** Temperature of the coolant. In °C. */
  coolant_c?: number | null;
  /** Temperature of the air in the engine bay. In °C. */
  bay_air_c?: number | null;
  /** The coolant. */
  coolant?: CoolantInput | null;
  /** Height above sea level. In m. */
  altitude_m?: number | null;
  /** Error of the tape, either way. In mm. */
  tape_error_mm?: number | null;
  /** Error of a direction, either way. In degrees. */
  angle_error_deg?: number | null;
  /** Flow in the heater circuit. In l/min. */
  flow_l_min?: number | null;
  /** What all else in that branch loses at that flow: heater core, taps, pipes. In kPa. */
  rest_of_branch_kpa?: number | null;
  /** Height of the filler in the car's axes. In mm. */
  filler_at_z_mm?: number | null;
  /** How the car stands. */
  stands?: StandsInput | null;
  /** What is to be filled in. */
  refill?: RefillInput | null;
}

/** What is known for the sum of concentrate and water. */
export interface RefillInput {
  /** What the whole system holds. In litres. */
  holds_l?: number | null;
  /** What stays in the block when it is drained. In litres. */
  left_l?: number | null;
  /** Glycol in what stays, by volume. In %. */
  left_percent?: number | null;
  /** Frost it must stand. In °C. */
  protect_to_c?: number | null;
  /** Glycol in what is poured in, by volume: of a pre-mix; absent for concentrate. In %. */
  pre_mix_percent?: number | null;
}

/** The coolant mixture. */
export interface CoolantInput {
  /** Which glycol. */
  glycol: GlycolInput;
  /** How much of it by volume. In %. */
  percent_by_volume: number;
}

/** How the car stands while it is filled. */
export interface StandsInput {
  /** How far the nose is raised. In degrees. */
  nose_up_deg: number;
}

/** One hose from spigot to spigot. */
export interface RunInput {
  /** What the run is called. */
  name?: string | null;
  /** Spigot A. */
  from: SpigotInput;
  /** Spigot B. */
  to: SpigotInput;
  /** P-clips and holes it passes. */
  via?: ViaInput[] | null;
  /** Things near it. */
  neighbours?: NeighbourInput[] | null;
  /** How far what is on the engine shifts, each way, as seen at the engine-side spigot. In mm. */
  rock_mm?: Triple | null;
  /** Shift and turn of the engine. */
  rock?: RockInput | null;
  /** The hose to use; absent: choose from stock. */
  hose?: HoseInput | null;
  /** The hose it takes the place of. */
  replaces?: ReplacesInput | null;
  /** On which side of the pump. */
  side?: SideInput | null;
  /** Whether coolant can stand still in it. */
  flow_can_stop?: boolean | null;
  /** A sleeve over it. */
  sleeve?: SleeveInput | null;
  /** Where the person stood while measuring. */
  stood?: string | null;
  /** A cut length to try. In mm. */
  try_cut_mm?: number | null;
  /** Of several ways to lie the one that was picked: from the middle between the mouths to the middle of the hose, in
      lengths of the hose. */
  bows?: Triple | null;
  /** The way the hose is wanted, as read off a bent wire or an old moulded hose, from mouth A on. */
  legs?: LegInput[] | null;
  /** Elbows with a joiner that stand on the spigots; the hose goes on from the joiner. */
  elbows?: ElbowInput[] | null;
  /** Whether oil drips or is splashed on it. */
  oil_near?: boolean | null;
}

/** A moulded bend on a spigot, with a joiner in its far end. */
export interface ElbowInput {
  /** On which spigot. */
  end: EndInput;
  /** Straight length from the mouth of the spigot to the bend. In mm. */
  leg_mm: number;
  /** How far it bends. In degrees. */
  bend_deg: number;
  /** The way it bends to. */
  towards: Triple;
  /** Radius to the inside of the bend. In mm. */
  inside_mm: number;
  /** Straight length from the bend to its end. In mm. */
  far_leg_mm: number;
}

/** A straight stretch and the bend after it. */
export interface LegInput {
  /** Length of the straight stretch. In mm. */
  straight_mm: number;
  /** How far it bends after that; absent for the last. In degrees. */
  bend_deg?: number | null;
  /** The way it bends to. */
  towards?: Triple | null;
  /** Radius to the inside of the bend. In mm. */
  inside_mm?: number | null;
}

/** One end of a run. */
export interface SpigotInput {
  /** What it is called. */
  name?: string | null;
  /** Outside diameter where the hose sits. In mm. */
  spigot_mm: number;
  /** Diameter of the bead, or "none". In mm. */
  bead_mm?: BeadInput | null;
  /** Length of hose gripped, back from the mouth. In mm. */
  seat_mm?: number | null;
  /** Centre of the mouth. In mm. */
  at_mm: Triple;
  /** The way it points, out of the part. */
  points: Triple;
  /** To what it is bolted. */
  on?: OnInput | null;
  /** What it is made of. */
  made_of?: string | null;
  /** Plain length behind the seat. In mm. */
  straight_mm?: number | null;
  /** How far the part can be moved. In mm. */
  can_move_mm?: number | null;
  /** Whether the seat was measured or taken. */
  seat_from?: SeatFromInput | null;
  /** Whether it can be turned. */
  turns?: TurnsInput | null;
  /** Error of its direction, either way. In degrees. */
  angle_error_deg?: number | null;
  /** What was typed, by field, with its unit. */
  typed?: Record<string, string> | null;
  /** How far it is to be turned about the axis it turns on, right-handed; `points` stays as measured. In degrees. */
  turned_deg?: number | null;
}

/** A P-clip or a hole in the way. */
export interface ViaInput {
  /** Where. In mm. */
  at_mm: Triple;
  /** What holds it: "P-clip", "grommet". */
  holds: string;
  /** To what it is bolted. */
  on?: OnInput | null;
  /** The way the hose must go through it, from A to B; absent if it may turn there. */
  along?: Triple | null;
}

/** A thing near the run. */
export interface NeighbourInput {
  /** What it is called. */
  name?: string | null;
  /** Its form and place. */
  shape: FormInput;
  /** Why it must be cleared. */
  kind: KindInput;
  /** To what it is bolted. */
  on?: OnInput | null;
  /** Surface temperature of a hot thing. In °C. */
  surface_c?: number | null;
  /** A distance asked for. In mm. */
  standoff_mm?: number | null;
  /** A flat shield before it. */
  shield?: ShieldInput | null;
  /** How far it moves from the place given, and back. In mm. */
  travel_mm?: Triple | null;
  /** Whether the hose may rest against it. */
  may_touch?: boolean | null;
}

/** A flat shield. */
export interface ShieldInput {
  /** From the hot surface to the shield. In mm. */
  gap_mm: number;
}

/** How the engine moves. */
export interface RockInput {
  /** Shift, each way. In mm. */
  shift_mm: Triple;
  /** Turn about the crank line, each way. In degrees. */
  turn_deg?: number | null;
  /** The crank line. */
  crank_line?: CrankLineInput | null;
}

/** The line about which the engine turns. */
export interface CrankLineInput {
  /** A point on it. In mm. */
  through_mm: Triple;
  /** Its direction. */
  along: Triple;
}

/** A hose of one's own. */
export interface HoseInput {
  /** Bore. In mm. */
  bore_mm: number;
  /** Wall; or give `outside_mm`. In mm. */
  wall_mm?: number | null;
  /** Outside diameter; or give `wall_mm`. In mm. */
  outside_mm?: number | null;
  /** What it is made of: EPDM, silicone, NBR, CR. */
  rubber?: string | null;
  /** SAE J20 class printed on it. */
  class?: string | null;
  /** Least bend radius to the inside, from its seller. In mm. */
  min_bend_radius_mm?: number | null;
  /** Bend radius to the inside at which it creased when tried. In mm. */
  creases_at_inside_mm?: number | null;
  /** Longest sound piece. In mm. */
  piece_mm?: number | null;
  /** Working pressure printed on it. In kPa. */
  rated_kpa?: number | null;
  /** Whether a wire in its wall holds it round. */
  wire_supported?: boolean | null;
}

/** The hose that was there. */
export interface ReplacesInput {
  /** Its length. In mm. */
  length_mm?: number | null;
  /** Its bore. In mm. */
  bore_mm?: number | null;
}

/** The bead: its outside diameter, or a plain end. In mm. */
export type BeadInput = number | 'none';

/** Whether a spigot can be turned, and about which axis. */
export type TurnsInput = 'no' | { about: Triple };

/** The form of a thing: one of four. */
export type FormInput = { rod: RodInput } | { ball: BallInput } | { box: BoxInput } | { disc: DiscInput };

/** A pipe or rod with round ends. */
export interface RodInput {
  /** Centre of one end. In mm. */
  from_mm: Triple;
  /** Centre of the other. In mm. */
  to_mm: Triple;
  /** Outside diameter. In mm. */
  diameter_mm: number;
}

/** A ball. */
export interface BallInput {
  /** Centre. In mm. */
  at_mm: Triple;
  /** Diameter. In mm. */
  diameter_mm: number;
}

/** A box with edges along the axes. */
export interface BoxInput {
  /** One corner. In mm. */
  from_mm: Triple;
  /** The corner opposite. In mm. */
  to_mm: Triple;
}

/** A fan or a pulley: a flat disc. */
export interface DiscInput {
  /** Centre. In mm. */
  at_mm: Triple;
  /** Direction of its axle. */
  along: Triple;
  /** Diameter. In mm. */
  diameter_mm: number;
  /** Thickness, along the axle. In mm. */
  thick_mm: number;
}

/** Which glycol. */
export type GlycolInput = 'ethylene' | 'propylene';

/** Engine or body. */
export type OnInput = 'engine' | 'body';

/** One of the two ends. */
export type EndInput = 'A' | 'B';

/** Where the length of a seat is from. */
export type SeatFromInput = 'measured' | 'taken';

/** Why a thing must be cleared. */
export type KindInput = 'hot' | 'moving' | 'sharp' | 'solid';

/** On which side of the pump. */
export type SideInput = 'pump inlet' | 'other';

/** A sleeve. */
export type SleeveInput = 'none' | 'new' | 'dirty';
