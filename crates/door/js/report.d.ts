// The report, field by field. Units stand in the field names and are said with each field; places are in the car's axes.
// Every field is there, and null where nothing is known; only those of a finding that are marked with ? may be absent.
// A test holds these types to crates/job/src/report.rs.
import type { Triple } from './job.js';
import type { CircuitReport, ClosuresReport, CutsReport, FillReport, OrderReport, ShoppingReport } from './report_car.js';

/** Two numbers; from and to, if nothing else is said. */
export type Pair = [number, number];

/** How a check comes out. */
export type Verdict = 'pass' | 'not checked' | 'warn' | 'fail';

/** What the word of a source is worth; empty without a source. */
export type Basis = 'published' | 'common practice' | 'from memory' | 'measured' | 'our choice' | 'invented' | '';

/** The answer to a job. */
export interface Report {
  /** "hosewright-report". */
  format: 'hosewright-report';
  /** See `REPORT_VERSION`. */
  version: 1;
  /** What was wrong with what was typed. */
  problems: Problem[];
  /** The runs that could be sized. */
  runs: RunReport[];
  /** What the coolant does as it is. */
  coolant: CoolantReport;
  /** What to pour, if it was said what the system holds. */
  refill: RefillReport | null;
  /** What to buy and how to cut it, told of several runs, and of a car. */
  cuts: CutsReport | null;
  /** All there is to buy, told with the cut list. */
  shopping: ShoppingReport | null;
  /** Where coolant flows in the car, and what is wrong with that. */
  loop: CircuitReport | null;
  /** How its open ends can be closed. */
  closures: ClosuresReport | null;
  /** In which order things come off and go on. */
  order: OrderReport | null;
  /** How to fill and prove it. */
  fill: FillReport | null;
}

/** What the coolant does. */
export interface CoolantReport {
  /** "ethylene" or "propylene". */
  glycol: string;
  /** Glycol by volume. In %. */
  percent: number;
  /** Where it begins to freeze. In °C. */
  freezes_c: number;
  /** Where it boils under the cap, if that is known. In °C. */
  boils_c: number | null;
  /** Its temperature as it flows. In °C. */
  hot_c: number;
  /** How much it grows from 20 °C to that. In %. */
  grows_percent: number | null;
  /** Its density when hot. In kg/m³. */
  density_kg_m3: number | null;
}

/** What to pour. */
export interface RefillReport {
  /** "pour", "only water", "drain more" or "too weak". */
  kind: string;
  /** What to do, in a sentence. */
  what: string;
  /** Glycol by volume that is wanted. In %. */
  wanted_percent: number;
  /** Glycol by volume that it ends at. In %. */
  ends_percent: number;
  /** Concentrate, or ready mix, to pour in. In litres. */
  pour_l: number | null;
  /** Water to pour in. In litres. */
  water_l: number | null;
  /** What must be drained first. In litres. */
  drain_l: number | null;
  /** What may stay in it at most. In litres. */
  leave_at_most_l: number | null;
  /** Where what it ends at begins to freeze. In °C. */
  freezes_c: number | null;
  /** Where it boils under the cap. In °C. */
  boils_c: number | null;
  /** How much it grows from 20 °C to the coolant's temperature. In litres. */
  grows_l: number | null;
}

/** The answer to one run. */
export interface RunReport {
  /** Its place among the runs as they were typed, from 0. */
  run: number;
  /** What it is called. */
  name: string;
  /** Hoses that could serve, best first. */
  candidates: CandidateReport[];
  /** Sizes that could not, and why. */
  rejected: RejectedReport[];
  /** What would help where no length works or the chance is low, the least work first; each was laid and passes. */
  remedies: RemedyReport[];
  /** The way the hose is wanted, if that was said. */
  wanted: WantedReport | null;
  /** Where no length works: "A", "B" or "A and B", if a length would work with these ends turned round. To be asked. */
  turned_round: string | null;
  /** Which rubber with the best hose, and what not to use. */
  advice: AdviceReport[];
  /** What was taken for granted because it was not said. */
  assumed: string[];
  /** Cautions for the work. */
  cautions: string[];
}

/** A piece of advice on the material. */
export interface AdviceReport {
  /** What to take or leave, and why. */
  what: string;
  /** On whose word. */
  source: string;
  /** What that is worth. */
  basis: Basis;
}

/** Something that would help. */
export interface RemedyReport {
  /** "other way", "sleeve", "shield", "turn", "wire", "clip", "elbow", "bent hose". */
  kind: string;
  /** What is done, in a sentence. */
  what: string;
  /** What it changes in the run: a field of the job file and its value, as JSON. */
  change: ChangeReport[];
  /** The worst verdict with it. */
  verdict: Verdict;
  /** The same in words. */
  headline: string;
  /** The cut suggested with it. In mm. */
  cut_mm: number;
  /** The lengths that work with it. In mm. */
  cut_window_mm: Pair | null;
  /** Its tightest bend, to the inside. In mm. */
  tightest_bend_mm: number;
  /** Points of the centre line at that cut. In mm. */
  points_mm: Triple[];
}

/** A field of the run and what it is to be. */
export interface ChangeReport {
  /** Its place in the run, as `from/turned_deg`. */
  field: string;
  /** The value, as JSON. */
  value: string;
}

/** One hose on one run. */
export interface CandidateReport {
  /** The hose. */
  hose: HoseReport;
  /** The worst verdict of its findings. */
  verdict: Verdict;
  /** The verdict in words, with what was not checked. */
  headline: string;
  /** Why it stands behind the first; empty for the first. */
  why_behind: string;
  /** The shortest window of cut lengths free of fails; null if there is none. In mm. */
  cut_window_mm: Pair | null;
  /** Further windows: longer loops. In mm. */
  more_windows_mm: Pair[];
  /** The part of the first window that is free of warnings too. In mm. */
  calm_window_mm: Pair | null;
  /** What goes wrong with a cut just shorter than the first window. */
  shorter_fails: FindingReport | null;
  /** What goes wrong with a cut just longer than the first window. */
  longer_fails: FindingReport | null;
  /** The cut: suggested, or the one that was to be tried, or the nearest to passing. In mm. */
  cut_mm: number;
  /** Chance that it passes in spite of tape and angle errors; worked out for the best hose, if a length of it
      works. From 0 to 1. */
  chance: number | null;
  /** The chance of each cut length over the first window and a little beyond: pairs of cut and chance, shortest first.
      In mm, and from 0 to 1. */
  chances: Pair[];
  /** True if no length passes and this is only the nearest. */
  nearest: boolean;
  /** How it lies at that cut; null if it cannot. */
  lie: LieReport | null;
  /** In how many ways it can lie there of itself; unless one was picked, the one told does worst. */
  ways: number;
  /** Every way, lowest energy first. */
  ways_to_lie: WayReport[];
  /** Where to mark it. */
  marks: Marks;
  /** How much to buy for this run alone. */
  buy: Buy;
  /** Clamps for both ends, A first. */
  clamps: ClampReport[];
  /** The first window if the hose is half as stiff as taken. In mm. */
  cut_window_if_half_as_stiff_mm: Pair | null;
  /** The first window if the hose is twice as stiff as taken. In mm. */
  cut_window_if_twice_as_stiff_mm: Pair | null;
  /** What was found. */
  findings: FindingReport[];
}

/** One of the ways in which a hose can lie. */
export interface WayReport {
  /** Where it bows: "bows up and to the left". */
  name: string;
  /** The same as it is stored of a way that is picked: from the middle between the mouths to the middle of the hose, in
      lengths of the hose. */
  bows: Triple;
  /** True for the one that is told. */
  told: boolean;
  /** False if it would have to be led round on purpose to lie so. */
  of_itself: boolean;
  /** Its bending energy over that of the easiest. */
  energy_over_least: number;
  /** Its worst verdict, where there are several ways. */
  verdict: Verdict | null;
  /** What is worst about it. */
  why: string | null;
  /** Points of the centre line, equally spaced. In mm. */
  points_mm: Triple[];
}

/** A hose as it is told. */
export interface HoseReport {
  /** What it is. */
  kind: string;
  /** The size as it is asked for. */
  sold_as: string;
  /** What it is made of, if known. */
  rubber: string | null;
  /** Its SAE J20 class, if known. */
  class: string | null;
  /** The hottest it bears for long, if known. In °C. */
  limit_c: number | null;
  /** Bore. In mm. */
  bore_mm: number;
  /** Outside diameter. In mm. */
  outside_mm: number;
  /** Where the size is from. */
  source: string;
  /** On what that rests. */
  basis: Basis;
}

/** How a hose lies. */
export interface LieReport {
  /** Length along the centre line between the mouths. In mm. */
  free_mm: number;
  /** Points of the centre line, equally spaced, mouth A to mouth B. In mm. */
  points_mm: Triple[];
  /** Bend radius to the inside at those points; no more than 2000. In mm. */
  bend_inside_mm: number[];
  /** Below this bend radius to the inside it fails; null if that is not known. In mm. */
  bend_fails_below_mm: number | null;
  /** Below this it warns. In mm. */
  bend_warns_below_mm: number | null;
  /** The tightest bend, to the inside. In mm. */
  tightest_bend_mm: number;
  /** Where it is, from mouth A. In mm. */
  at_mm: number;
  /** How far it bows out of the straight line between the mouths. In mm. */
  bow_mm: number;
  /** Places from knife end to knife end, from mouth A along the centre line: negative on the seat of A. In mm. */
  gap_places_mm: number[];
  /** The clips and holes it passes, in their order. */
  clips: HeldReport[];
  /** Where it rests against what it may touch. */
  rests: RestReport[];
  /** How near every thing comes at those places. */
  gaps: GapReport[];
  /** How hot the skin gets there beside every hot thing. */
  heat: HeatReport[];
}

/** How hot the skin gets beside one thing all along the hose. */
export interface HeatReport {
  /** Name of the thing. */
  about: string;
  /** Temperature of the skin at the places of the gaps. In °C. */
  skin_c: number[];
  /** Above this it fails; null if it is not known what the rubber bears. In °C. */
  fails_above_c: number | null;
  /** Above this it warns. In °C. */
  warns_above_c: number | null;
  /** The same in other states than the one that is judged; for the best hose only. */
  also: HeatStateReport[];
}

/** How hot the skin gets along the hose in another state. */
export interface HeatStateReport {
  /** "bare", "under a new sleeve", "under a dirty sleeve", or "bare, coolant standing still". */
  state: string;
  /** Temperature of the skin at the places of the gaps. In °C. */
  skin_c: number[];
}

/** How near one thing comes all along the hose. */
export interface GapReport {
  /** Name of the thing. */
  about: string;
  /** From the skin of the hose to its surface; negative inside. Clamps are left out: they count in the finding. In mm. */
  gap_mm: number[];
  /** Below this it fails. In mm. */
  fails_below_mm: number | null;
  /** Below this it warns. In mm. */
  warns_below_mm: number | null;
}

/** A clip or hole on the way. */
export interface HeldReport {
  /** "P-clip" or "grommet". */
  holds: string;
  /** Where along the hose it sits, from mouth A along the centre line. In mm. */
  at_mm: number;
  /** Force of the clip on the hose. In N. */
  force_n: number;
}

/** Where a hose rests against something. */
export interface RestReport {
  /** Name of the thing. */
  about: string;
  /** Where along the hose it begins to touch, from mouth A, and where it ends. In mm. */
  from_mm: number;
  /** See `from_mm`. In mm. */
  to_mm: number;
  /** With what force they press on each other. In N. */
  force_n: number;
}

/** The way a hose is wanted, with the best hose. */
export interface WantedReport {
  /** Length of its centre line, mouth to mouth. In mm. */
  free_mm: number;
  /** The cut length: with both seats. In mm. */
  cut_mm: number;
  /** Its bends, in their order. */
  bends: BendReport[];
  /** How far its end is from mouth B. In mm. */
  off_mm: number;
  /** How far its direction there is off. In degrees. */
  off_deg: number;
  /** Where P-clips keep a straight hose within `strays_mm` of it. */
  clips: ClipReport[];
  /** How far the hose strays with them; null if no clips keep it to the way at all. In mm. */
  strays_mm: number | null;
  /** Points of its centre line. In mm. */
  points_mm: Triple[];
}

/** A bend of the way wanted. */
export interface BendReport {
  /** Where it begins, from mouth A. In mm. */
  at_mm: number;
  /** By how much. In degrees. */
  bend_deg: number;
  /** Its radius to the inside. In mm. */
  inside_mm: number;
  /** Whether a straight hose can be bent so. */
  verdict: Verdict;
}

/** Where a clip is wanted. */
export interface ClipReport {
  /** Its place. In mm. */
  at_mm: Triple;
  /** The way the hose goes through it, if that is to be held. */
  along: Triple | null;
  /** Where it is along the way, from mouth A. In mm. */
  from_a_mm: number;
}

/** A clamp for one end. */
export interface ClampReport {
  /** "A" or "B". */
  end: string;
  /** Name of the spigot. */
  spigot: string;
  /** "worm drive" or "spring band". */
  kind: string;
  /** The standard of the size. */
  standard: string;
  /** The size. */
  size: string;
  /** What it closes on, from and to. In mm. */
  range_mm: Pair;
  /** Width of the band, from and to. In mm. */
  band_mm: Pair;
  /** Diameter it closes on here. In mm. */
  closes_on_mm: number;
  /** Diameter it opens over here. In mm. */
  opens_over_mm: number;
  /** Centre of the band from the end of the hose. In mm. */
  band_from_end_mm: number;
  /** Torque on a new hose, if it has a screw. In N·m. */
  torque_nm: number | null;
  /** Its tolerance. In N·m. */
  torque_plus_minus_nm: number | null;
  /** Where the torque is from. */
  torque_source: string | null;
  /** Torque when it is nipped up, after the first heat and cooling, if it has a screw. In N·m. */
  again_nm: number | null;
  /** Its tolerance. In N·m. */
  again_plus_minus_nm: number | null;
  /** Whether it keeps its pull by itself while the rubber takes a set. */
  follows: boolean;
  /** Why not the next smaller size. */
  not_smaller: string | null;
  /** Where the size is from. */
  source: string;
  /** On what that rests. */
  basis: Basis;
}

/** One finding. */
export interface FindingReport {
  /** The check. */
  check: string;
  /** "pass", "warn", "fail" or "not checked". */
  verdict: Verdict;
  /** The spigot or thing it is about. */
  about: string;
  /** What was measured. */
  actual: number | null;
  /** The limit the verdict speaks of. */
  allowed: number | null;
  /** Unit of both. */
  unit: string;
  /** Where, from mouth A along the centre line. In mm. */
  at_mm: number | null;
  /** Why. */
  why: string;
  /** Where the limit is from. */
  source: string;
  /** On what that rests. */
  basis: Basis;
  /** Radius of the centre line at which the hose kinks, before any factor. In mm. */
  kink_radius_centre_mm?: number;
  /** Flattening of the outside diameter at the tightest bend. In %. */
  flattening_percent?: number;
  /** Six times the bore: a supplier's rule, shown beside the verdict. In mm. */
  six_times_bore_mm?: number;
  /** How far a part must move, or the hose bow, to be put on. In mm. */
  must_move_mm?: number;
  /** How far the engine is shifted where this was found. In mm. */
  rock_shift_mm?: Triple;
  /** How far it is turned there. In degrees. */
  rock_turn_deg?: number;
  /** Skin of a bare hose beside something hot. In °C. */
  bare_c?: number;
  /** Skin under a new sleeve. In °C. */
  sleeve_new_c?: number;
  /** Skin under a dirty one. In °C. */
  sleeve_dirty_c?: number;
  /** Skin of a bare hose whose coolant stands still. In °C. */
  standing_c?: number;
  /** Skin behind the flat shield that stands, else behind one half way. In °C. */
  behind_shield_c?: number;
  /** Skin in the air that rises from a hot thing. In °C. */
  in_plume_c?: number;
  /** Distance at which a bare hose passes. In mm. */
  standoff_needed_mm?: number;
  /** The same under a new sleeve. In mm. */
  standoff_needed_sleeve_new_mm?: number;
  /** The same under a dirty one. In mm. */
  standoff_needed_sleeve_dirty_mm?: number;
  /** Where the coolant boils under the cap. In °C. */
  boils_c?: number;
  /** Suction under which it falls in. In kPa. */
  collapses_at_kpa?: number;
  /** What the hose grips without its clamp. In N. */
  grips_alone_n?: number;
  /** Pressure that the run loses. In Pa. */
  loss_pa?: number;
  /** Of it in elbows. In Pa. */
  loss_elbows_pa?: number;
  /** Of it in straight hose. In Pa. */
  loss_straight_pa?: number;
  /** Of it in bends. In Pa. */
  loss_bends_pa?: number;
  /** Of it in the spigots. In Pa. */
  loss_spigots_pa?: number;
  /** Of it where the hose is flattened. In Pa. */
  loss_flattened_pa?: number;
  /** Reynolds number of the flow. */
  reynolds?: number;
  /** Friction factor of Darcy. */
  friction_factor?: number;
}

/** A size that could not serve. */
export interface RejectedReport {
  /** Bore. In mm. */
  bore_mm: number;
  /** Outside diameter. In mm. */
  outside_mm: number;
  /** The size as it is asked for. */
  sold_as: string;
  /** The finding that rules it out. */
  finding: FindingReport;
}

/** What is wrong with what was typed. */
export interface Problem {
  /** Which run, counted from 0; absent for the job as a whole. */
  run: number | null;
  /** Which field, by its path in the job file. */
  field: string;
  /** What is wrong with it. */
  wrong: string;
  /** What would be right. */
  right: string;
}

/** Marks along the hose, mm from the knife end that goes on A. */
export interface Marks {
  /** Where mouth A comes. In mm. */
  mouth_a_mm: number;
  /** Where mouth B comes. In mm. */
  mouth_b_mm: number;
  /** How much less, and how much more, of the hose may be pushed on both spigots together: the play of the seats. In mm. */
  seat_play_mm: number;
}

/** How much hose to buy for this run alone. */
export interface Buy {
  /** Cut length and trimming. In mm. */
  at_least_mm: number;
  /** Sold by the 100 mm. In mm. */
  by_100_mm: number;
  /** Sold by the half metre. In mm. */
  by_half_metre_mm: number;
  /** Sold by the foot, in feet. */
  by_foot: number;
}
