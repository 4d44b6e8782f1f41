//! Every sentence the page says by itself; what the checks say comes with the report.

use quantity::text::LengthUnit;

pub(crate) const TITLE: &str = "Hosewright";
pub(crate) const EXAMPLE: &str = "Example: the car and its figures are invented.";
pub(crate) const NOT_FOR: &str =
    "For engine coolant only: not for fuel, brake, steering, oil, refrigerant, boat or drinking-water hose.";
pub(crate) const CAUTION: &str = "An estimate: offer the hose up before you cut it. Never open a hot cooling system.";
pub(crate) const STARTING: &str = "Working it out …";
pub(crate) const HALT: &str = "Stop it";
pub(crate) const HALTED: &str = "it was told to. It is tried again with the next change.";
pub(crate) const CUT_LENGTH: &str = "cut length";
pub(crate) const TRIED_LENGTH: &str = "the length tried";
pub(crate) const LIKELY: &str = "Taken as likely:";
pub(crate) const TO_ANSWER: &str = "Back to the answer";
pub(crate) const LIES: &str = "How it will lie";
pub(crate) const CHECKED: &str = "What was checked";
pub(crate) const MARK: &str = "Mark it and cut it";
pub(crate) const SHORTER: &str = "Shorter or longer";
pub(crate) const ALONG: &str = "Along the hose";
pub(crate) const TURN: &str = "Turn it";
pub(crate) const TOUCH: &str = "Touch a lane or press a button: what was found at that place is read out here.";
pub(crate) const LANES: &str = "From knife end to knife end, dots are the gripped seats. Hatched is not allowed; \
    below the broken line, take care. The ring is the worst place. What is hot is drawn low; it may be 20 K more or less, \
    between the thin lines.";
pub(crate) const CLAMPS: &str = "Clamps";
pub(crate) const OTHERS: &str = "Other hoses";
pub(crate) const SEND: &str = "Hand it on";
pub(crate) const LINK_LATER: &str = "There is a link to it once all of this run is said";
pub(crate) const LINK: &str = "This run as a link";
pub(crate) const NO_WORKER: &str = "its script does not come. It is tried again with the next change.";
pub(crate) const PASS_ON: &str = "The link of the run it broke on, to pass on to whoever looks after this page";
pub(crate) const COPY: &str = "Copy the link";
pub(crate) const COPIED: &str = "Copied.";
pub(crate) const NOT_COPIED: &str = "This phone did not let the page copy: press long on the link and copy it by hand.";
pub(crate) const SHOW_CODE: &str = "Show it as a code";
pub(crate) const HIDE_CODE: &str = "Hide the code";
pub(crate) const CODE: &str = "QR code of this run";
pub(crate) const WHO_SEES: &str = "Whoever has the link sees all measurements of this run. It is sent to nobody else.";
pub(crate) const PASTE: &str = "Paste a link or code";
pub(crate) const OPEN: &str = "Open it";
pub(crate) const CAME: &str = "A run came with the link:";
pub(crate) const KEEP_MINE: &str = "Keep mine";
pub(crate) const BAD_LINK: &str = "The link cannot be opened. Your own run is untouched.";
pub(crate) const NO_RUN: &str = "There is no run in it.";
pub(crate) const MEASURES: &str = "Measurements";
pub(crate) const AXES: &str = "Places are measured in the car's own directions: forward, to the car's left, up. \
    A minus sign means back, to the right, down. Points: the way water would leave the spigot; two spigots that face each \
    other have opposite signs.";
pub(crate) const NO_HOSE: &str = "No hose in the tables goes on both spigots.";
pub(crate) const NO_HOSE_HELPS: &str = "Measure both once more, behind the bead. If they do differ so: a reducer between two \
    pieces of hose, each measured as a run of its own from its spigot to the reducer (common practice).";
pub(crate) const SPIGOT_AGAIN: &str = "Spigot {} again";
pub(crate) const SIZES: &str = "Sizes";
pub(crate) const NOT_DRAWN: &str = "Not drawn: a measurement below is not right yet.";
pub(crate) const UNKNOWN: &str = "What this does not know: the fabric in the wall, a bend the roll has kept, twist locked in while \
    fitting, and how stiff your hose really is. Let the hose turn freely before you close the clamps.";
pub(crate) const NEW_VERSION: &str = "A new version is ready";
pub(crate) const SWITCH: &str = "Switch now";
pub(crate) const LATER: &str = "Later";
pub(crate) const LANGUAGE: &str = "Language";
pub(crate) const ON_PAGE: &str = "On this page";
pub(crate) const SWITCHES: &str = "Left hand, gloves, language";
pub(crate) const IN_HAND: &str = "In the hand";
pub(crate) const IN_HAND_IS: &str = "What you press most moves to the side of your thumb, or grows.";
pub(crate) const LEFT_HAND: &str = "Left hand";
pub(crate) const GLOVES: &str = "Gloves";
pub(crate) const ON_THIS_PHONE: &str = "On this phone";
pub(crate) const STAYS_HERE: &str = "What you type stays on this phone.";
pub(crate) const HOW_GOOD: &str = "How good is it?";
pub(crate) const TO_HOME: &str = "Put it on the home screen";
pub(crate) const TO_HOME_BY_HAND: &str = "The browser's share menu puts it on the home screen. From there it starts empty: save \
    your cars as a file first, and take it in there.";
pub(crate) const SAVE_FIRST: &str = "Save the cars as a file";
pub(crate) const AFRESH: &str = "Start afresh";
pub(crate) const AFRESH_DONE: &str = "What stood here before can be brought back.";
pub(crate) const UNDO: &str = "Undo";
pub(crate) const REFUSED: &str = "This phone keeps nothing: its browser does not let the page store anything, so what you type \
    is gone when the page is closed.";
pub(crate) const FULL: &str =
    "This phone keeps nothing: its storage is full, so what you type now is gone when the page is closed.";
pub(crate) const DAMAGED: &str = "What this phone had kept cannot be read; it was set aside, and this is the example.";
pub(crate) const NEWER: &str =
    "What this phone had kept is from a newer version of this page; it was set aside, and this is the example.";

pub(crate) const ADD_NEAR: &str = "Add a thing near it";
pub(crate) const MEASURE: &str = "Measure one hose";
pub(crate) const AS_A: &str = "As thick as A. If it is not: tap what it is.";
pub(crate) const SHOW_CUT: &str = "Show the cut";
pub(crate) const SQUIRT: &str = "If water squirted out of it, which way would it go?";
pub(crate) const ONE_PLACE: &str = "Stand in one place for the whole run.";
pub(crate) const HALF_WAY: &str = "Half-way? Tap a dashed one as well.";
pub(crate) const LEAN: &str = "It leans a little";
pub(crate) const TAPE: &str = "Tape square to the car, mouth to mouth. A number, then the way.";
pub(crate) const TOO_FAR: &str = "That is further away than any car is long.";
pub(crate) const NUMBER_FIRST: &str = "First the number, then the way.";
pub(crate) const REST_IN_LINE: &str = "The rest is in line";
pub(crate) const STRAIGHT_ON: &str = "straight on, facing A";
pub(crate) const HOT_PIPE: &str = "Hot pipe near it";
pub(crate) const WHAT_NEAR: &str = "What is near the hose?";
pub(crate) const WHAT_IS_IT: &str = "What is it?";
pub(crate) const WHERE_YOU: &str = "Where are you?";
pub(crate) const STAY_PUT: &str =
    "Right, left, away and to you are said from there. What was measured already keeps its place in the car.";
pub(crate) const STILL: &str = "Still to say:";
pub(crate) const HAVE_PIECE: &str = "I have a piece, or the old hose";
pub(crate) const PIECE: &str = "Measure it end to end, straightened. The old one is only compared: it was moulded, and a straight \
    hose lies otherwise.";
pub(crate) const CUT_ALREADY: &str = "my piece is this long";
pub(crate) const OLD_HOSE: &str = "the old hose was this long";
pub(crate) const MARK_NEXT: &str = "Mark it and cut it";
pub(crate) const ANOTHER: &str = "Measure another hose";
pub(crate) const TAKE_AWAY: &str = "Take it away";
pub(crate) const WHERE_IT_IS: &str = "Where it is";

pub(crate) const SEND_IT: &str = "Send it …";
pub(crate) const NOT_SENT: &str = "It could not be handed over: copy the link instead.";

/// The other half of the check "load": a moment, not a force.
pub(crate) const BENDING_LOAD: &str = "Bending load on the spigot";

pub(crate) const WAYS: &str = "It can lie in more than one way";
pub(crate) const WORST_WAY: &str = "Which of them it takes is chance and how you lead it. A length works if every way does into which the \
    hose would fall by itself; the worst is shown.";
pub(crate) const PICKED_WAY: &str = "You picked a way: only that one is judged. Lead the hose so when you fit it, and look again when it \
    has been warm.";
pub(crate) const LAY_IT_SO: &str = "Lay it so";
pub(crate) const ANY_WAY: &str = "Judge every way again";
pub(crate) const WHAT_HELPS: &str = "What would help";
pub(crate) const HELPS: &str = "Each was laid and passes, the least work first.";
pub(crate) const NOTHING_HELPS: &str =
    "Nothing that was tried helps: another lie, a turned spigot, hose on wire, a clip, an elbow, a bent hose.";
pub(crate) const TAKE_IT: &str = "Try this on the run";
pub(crate) const SAY_HOT: &str = "Say how hot it gets";
pub(crate) const SAY_ROCK: &str = "Say how far the engine rocks";
pub(crate) const HOW_IT_ROCKS: &str = "How far does it rock?";
pub(crate) const ROCKS: &str = "What is on the engine moves against what is on the body: on starting, on pulling away, over bumps. \
    Rock it by hand and look.";
pub(crate) const OR_MEASURED: &str = "Or as you measured it, each way:";
pub(crate) const ADD_CLIP: &str = "+ P-clip or hole on the way";
pub(crate) const ADD_LEG: &str = "+ leg of the way it should go";

pub(crate) const WAY_WANTED: &str = "The way it should go";
pub(crate) const READ_RIGHT: &str = "as near as it can be read off.";
pub(crate) const READ_WRONG: &str =
    "it was read off wrong, or a mouth is not where it was measured. Measure both again.";
pub(crate) const NO_CLIPS_KEEP: &str = "No P-clips keep a straight hose to it.";
pub(crate) const HOLD_IT_SO: &str = "Hold it with these P-clips";
pub(crate) const WANTED_LINE: &str = "The line of long dashes and two dots is the way it should go.";
pub(crate) const HELD_MARKS: &str = "A band across it is what holds it, a thick line along it where it rests.";
pub(crate) const THREAD: &str = " Lead it through the grommet before both ends are on.";

pub(crate) const RUBBER: &str = "Which rubber, and what not to use";
pub(crate) const POUR: &str = "What to pour";
pub(crate) const SAY_HOLDS: &str = "With what the cooling system holds it is worked out here: how much \
    concentrate, how much water, how far to drain first.";
pub(crate) const SAY_IT: &str = "Say what it holds";
pub(crate) const CUT_HOW: [&str; 3] = [
    "The hose is laid as an elastic rod with its weight at every length from the straight distance to three times that, and with the \
     engine in every corner of its rock; a length works if no check fails. The cut is the length that forgives most.",
    "From: all that was measured, and the checks below with their sources. Lengths and cut count both seats.",
    "Worth: solid for the lie of a plain rubber hose (0.3 mm at the edges, against other programs); medium for yours: fabric, set and \
     twist are not known.",
];
pub(crate) const POUR_HOW: [&str; 4] = [
    "Volumes add up: what stays keeps its glycol, what is poured brings its own, water the rest. Mixing shrinks it by about 1 %: keep \
     some of both to top up.",
    "Freezing: a table of inhibited ethylene glycol by volume, as ASHRAE prints it (published), and Lange's Handbook for propylene \
     (published), within 1 K. Above 60 % it freezes earlier again.",
    "Boiling: Raoult's law with IAPWS-IF97, cap and altitude (published), within 1.5 K. Growth: density over density.",
    "Worth: solid. Used coolant is what a tester says it is, not what was poured once.",
];
pub(crate) const POUR_CARE: &str = "Only into a cold system. Coolant is poisonous, and sweet to children and animals: catch it, take it where \
    your local rules say. Use the kind the car's maker asks for; kinds do not all mix.";
pub(crate) const SURFACES: &str = "How hot such things get when driven hard (from memory; measure if you can):";
pub(crate) const FOLLOWS: &str = "Keeps its pull by itself while the rubber takes a set.";

pub(crate) const READ_BACK: &str = "Read back in words";

// The printed sheet.
pub(crate) const PRINT: &str = "Print this run";
pub(crate) const PAPER: &str = "This run on paper";
pub(crate) const NOTHING_TO_PRINT: &str = "There is no answer to print yet: look at the page for what is missing.";
pub(crate) const BLANKS: [&str; 3] = ["Cut by", "Date", "Offered up"];
pub(crate) const BOTH_UNITS: &str = "What is cut or bought is in mm and, in brackets, in inches to the nearest 1/16.";
pub(crate) const NO_CUT: &str = "There is nothing to mark, cut or buy.";
pub(crate) const DO_NOT_CUT: &str = "Do not cut to this sheet.";
pub(crate) const TRIED: &str = "This cut was tried by hand; it is not the one suggested.";
pub(crate) const PASSES_TOO: &str = "Passes as well:";
pub(crate) const TO_BUY: &str = "Hose and clamps to buy";
pub(crate) const BEFORE: &str = "Before you begin";
pub(crate) const LENGTH_NOW: &str = "Length now: {}.";
pub(crate) const NOT_ALL_CHECKED: &str = "Not all is checked.";
pub(crate) const NOT_KNOWN: &str = "Bear in mind";
pub(crate) const IN_THE_VIEWS: &str = "The stroke across the hose marks its tightest bend. Dots are the gripped seats.";
pub(crate) const HUNDRED: &str = "This line is 100 mm long: if not, the printer scaled the page, and the drawings with it. \
    The figures hold all the same.";
pub(crate) const OPENS: &str = "The code opens this run in the page again. Its link begins:";

// The whole car.
pub(crate) const HOW_KNOWN: &str = "How do you know?";
pub(crate) const JOB_SHEET: &str = "Job sheet";
pub(crate) const JOB_BLANKS: [&str; 3] = ["Done by", "Date", "Proved"];
pub(crate) const FOUND: &str = "What is not right";
pub(crate) const PRINT_CAR: &str = "Print the job sheet";
pub(crate) const COPY_CAR: &str = "Copy it as plain text";
pub(crate) const HAND_CAR_ON: &str = "Hand the whole car on";
pub(crate) const PLACES: &str = "Places";
pub(crate) const PLACE_RUN: &str = "Run";
pub(crate) const PLACE_CAR: &str = "Car";
pub(crate) const PLACE_BUY: &str = "Buy";
pub(crate) const PLACE_FIT: &str = "Fit";
pub(crate) const PLACE_FILL: &str = "Fill";
pub(crate) const THE_CAR: &str = "The car";
pub(crate) const SHOPPING: &str = "What to buy";
pub(crate) const ORDER: &str = "Order of work";
pub(crate) const FILLING: &str = "Fill and prove";
pub(crate) const MORE_HOSES: &str = "More hoses on this car";
pub(crate) const MORE_HOSES_HOW: &str = "List every hose and steel line, decide what becomes of each, see whether coolant still goes round, \
    and get one shopping list and the order of work.";
pub(crate) const TO_CAR: &str = "The whole car";
pub(crate) const EXAMPLE_CAR: &str = "Show the example car";
pub(crate) const SURVEY: &str = "Begin with the car";
pub(crate) const SURVEY_HOW: &str = "Every part that coolant goes through, and every hose and steel line between them. Begin with a plain car \
    and change what is different on yours, or add lines one by one.";
pub(crate) const PLAIN_CAR: &str = "Begin with a plain car";
pub(crate) const PLAIN_CAR_IS: &str = "Pump, block, head, thermostat at the head's outlet, radiator, heater, expansion bottle. Invented: no car \
    of any maker.";
pub(crate) const ROUND: &str = "Coolant goes round.";
pub(crate) const PENS: &str =
    "Thick: a new hose. Thin: it stays. Dotted: not decided yet. Broken: it goes. The numbers are those of the list.";
pub(crate) const LINES: &str = "Lines";
pub(crate) const ADD_LINE: &str = "Add a line";
pub(crate) const UNDECIDED: &str = "not decided";
pub(crate) const NO_NAME: &str = "no name yet";
pub(crate) const NOT_MEASURED: &str = "not measured yet";
pub(crate) const NO_LENGTH: &str = "no length works";
pub(crate) const CLOSE_SO: &str = "Close it so";
pub(crate) const SOLVER_STOPPED: &str = "the solver stopped";
pub(crate) const PARTS: &str = "Parts";
pub(crate) const ADD_PART: &str = "Add a part";
pub(crate) const HOSES_MEASURED: &str = "Hoses measured";
pub(crate) const MEASURE_ANOTHER: &str = "Measure another hose";
pub(crate) const MORE: &str = "More";
pub(crate) const COPY_RUN: &str = "Copy it";
pub(crate) const UP: &str = "Move up";
pub(crate) const TAKEN: &str = "Taken away.";
pub(crate) const ITS_STATE: &str = "What state is it in?";
pub(crate) const CAN_BE_BOUGHT: &str = "What can be bought for it?";
pub(crate) const DECIDED: &str = "What becomes of it?";
pub(crate) const DECIDED_ON: &str = "decided on";
pub(crate) const LEFT_OUT_HOW: &str = "Both its ends are then open, unless another line goes on them: see Fit for how to close them, and the \
    picture for whether coolant still goes round.";
pub(crate) const MORE_OF_IT: &str = "More of it";
pub(crate) const THIS_LINE: &str = "This line";
pub(crate) const COPY_LINE: &str = "Copy it";
pub(crate) const BACK_TO_CAR: &str = "Back to the car";
pub(crate) const FROM_PART: &str = "From the part";
pub(crate) const FROM_SPIGOT: &str = "its spigot, from";
pub(crate) const TO_PART: &str = "To the part";
pub(crate) const TO_SPIGOT: &str = "its spigot, to";
pub(crate) const CHOOSE: &str = "choose";
pub(crate) const NEW_PART: &str = "+ another part";
pub(crate) const NEW_SPIGOT: &str = "+ another spigot";
pub(crate) const ITS_SHEET: &str = "Its hose";
pub(crate) const MEASURE_IT: &str = "Measure its hose";
pub(crate) const IN_THE_WAY: &str = "What is in its way";
pub(crate) const WHAT_THING: &str = "Name of the other thing";
pub(crate) const IS_IN_THE_WAY: &str = "is in its way";
pub(crate) const COMES_OFF_WITH: &str = "comes off with it";
pub(crate) const PART_GOES: &str = "It is taken out of the car";
pub(crate) const PART_GOES_HOW: &str = "All lines on it go with it; what they leave open elsewhere is to be closed.";
pub(crate) const SPIGOTS: &str = "Its spigots";
pub(crate) const ADD_SPIGOT: &str = "Add a spigot";
pub(crate) const THIS_PART: &str = "This part";
pub(crate) const NOTHING_TO_BUY: &str =
    "There is nothing to buy yet: measure a hose, or decide what becomes of a line.";
pub(crate) const NO_HOSE_YET: &str = "no hose works there yet";
pub(crate) const COPY_LIST: &str = "Copy the list";
pub(crate) const LIST_NOT_COPIED: &str =
    "This phone did not let the page copy: press long on the text and copy it by hand.";
pub(crate) const CUT_LIST: &str = "Which piece from which length";
pub(crate) const ALLOWED: &str = "For each piece {} are allowed for the knife and for trimming";
pub(crate) const OF_YOURS: &str = "of yours";
pub(crate) const OF_NEW: &str = "to buy";
pub(crate) const TOO_LONG: &str = "Longer than any length there is:";
pub(crate) const FEWEST: &str = "There is no way to buy less.";
pub(crate) const NOT_PROVEN: &str = "The best that was found; less than this cannot do:";
pub(crate) const BEST_FOUND: &str = "The best that was found.";
pub(crate) const STOCK: &str = "Hose you have, and how it is sold";
pub(crate) const STOCK_HOW: &str = "Pieces you have are used first. Unless you say otherwise hose is bought in the lengths in which it is usually sold.";
pub(crate) const ADD_STOCK: &str = "Add a hose";
pub(crate) const PIECES: &str = "sound pieces you have";
pub(crate) const PIECES_HOW: &str = "their lengths, a semicolon between";
pub(crate) const PIECES_WRONG: &str = "One of them is no length.";
pub(crate) const COLD_ONLY: &str = "Only on a cold engine. Never open a hot system.";
pub(crate) const KNOTS: &str = "These leave no order";
pub(crate) const ASK: &str = "To be asked";
pub(crate) const NO_WORK: &str =
    "Nothing is decided that has to be worked on: decide on a line of the car, and say what is in its way.";
pub(crate) const TAKE_OFF: &str = "Take off, in this order";
pub(crate) const CLOSE: &str = "Close the open ends";
pub(crate) const NOT_TO_USE: &str = "Not to be used";
pub(crate) const PUT_ON: &str = "Put on, in this order";
pub(crate) const PUT_ON_HOW: &str = "Clamps finger-tight until all is in place.";
pub(crate) const WHILE_OPEN: &str = "Worth doing while it is open";
pub(crate) const HOLDS_NOW: &str = "What it holds";
pub(crate) const FILL_STEPS: &str = "Step by step";
pub(crate) const IF_IT_WEEPS: &str = "If it weeps";
pub(crate) const NEXT_LOOK: &str = "When to look again";
pub(crate) const LOG: &str = "What was done";
pub(crate) const LOG_DAY: &str = "day";
pub(crate) const LOG_WHAT: &str = "what was done";
pub(crate) const LOG_NEXT: &str = "look again on";
pub(crate) const LOG_EMPTY: &str = "First say what was done.";
pub(crate) const LOG_ADD: &str = "Write it down";
pub(crate) const GOES_ROUND: &str = "Does coolant go round?";
pub(crate) const CLOSE_IT: &str = "Close it";
pub(crate) const NOT_SO: &str = "Not so after all";
pub(crate) const STILL_MISSING: &str = "Not in this list yet";
pub(crate) const TO_BE_MEASURED: &str = "To be measured first:";
pub(crate) const SAY_SPIGOT: &str = "Say what is known of {}";
pub(crate) const IT_IS: &str = "Measured already:";
pub(crate) const NAME_FIRST: &str = "First the name of the other thing.";
pub(crate) const NEXT_LINE: &str = "Next:";
pub(crate) const ADD_IT: &str = "Add it";
pub(crate) const LOG_HOW: &str = "Kept with this car, and in its file.";

// The cars kept on this phone.
pub(crate) const CARS: &str = "Cars kept on this phone";
pub(crate) const CARS_HOW: &str =
    "Each car you work on is kept here by itself, on this phone only. To have it elsewhere as well, save it as a file.";
pub(crate) const NO_CARS: &str = "None yet.";
pub(crate) const NEW_CAR: &str = "New car";
pub(crate) const AT_HAND: &str = " · at hand";
pub(crate) const EXPORT: &str = "Save as a file";
pub(crate) const CAR_GONE: &str = "Taken away, with its earlier states and photos.";
pub(crate) const AS_IT_WAS: &str = "As it was at";
pub(crate) const BRING_BACK: &str = "Bring it back";
pub(crate) const SAVED: &str = "Handed to the browser as a file: it is among the downloads.";
pub(crate) const AS_NOW: &str = "as it is now";
pub(crate) const ITS_NAME: &str = "the car's name";
pub(crate) const ITS_CONDITIONS: &str = "the conditions";
pub(crate) const ITS_WAY: &str = "what is in the way";
pub(crate) const ITS_STOCK: &str = "hose at hand";
pub(crate) const ITS_LOG: &str = "what was ticked off or written down";
pub(crate) const KEPT_AS_COPY: &str =
    "This car was changed in another tab as well: what stands here is kept as a car of its own, “{}”.";
pub(crate) const NEWER_CAR: &str = "From a newer version";
pub(crate) const CAR_NEWER: &str = "A newer version of this page has written this car; this one leaves it as it is.";
pub(crate) const CAR_UNREAD: &str = "This car could not be read; it was set aside.";
pub(crate) const SET_ASIDE: &str = "Set aside";
pub(crate) const COULD_NOT_READ: &str = "A car that could not be read";
pub(crate) const EXPORT_RAW: &str = "Save what is there as a file";
pub(crate) const UNREAD_FILE: &str = "not-readable.txt";
pub(crate) const EXPORT_ALL: &str = "Save all cars as one file";
pub(crate) const EXPORT_ALL_HOW: &str = "With their photos and earlier states, for another phone or the home screen.";
pub(crate) const FROM_FILE: &str = "Cars from a file";
pub(crate) const JOB_FILE: &str =
    "job file, 1 MB at most; it becomes a car of its own. Or a file of all cars, 100 MB at most";
pub(crate) const READING: &str = "The file is being read …";
pub(crate) const BROUGHT: &str = "Taken in: {}.";
pub(crate) const BROUGHT_LATER: &str =
    "Taken in, in place of the older state here, which stays among its earlier ones: {}.";
pub(crate) const KNOWN: &str = "Stood here already: {}.";
pub(crate) const BROUGHT_UNREAD: &str = "One could not be read: it stays in the file.";
pub(crate) const OTHER_PHOTOS: &str = "The file has another photo of these lines, and the one here stays: {}. \
    Take it away and take the file in again to have the other.";
pub(crate) const NOT_ALL_BROUGHT: &str = "Not all of the file was taken in: keep it, and take it in again.";
pub(crate) const NOT_SAVED_ONE: &str = "The file could not be saved.";
pub(crate) const NOT_SAVED: &str = "The file could not be saved: save each car as a file.";
pub(crate) const NOTHING_BROUGHT: &str = "There is no car in it.";
pub(crate) const CAME_IN: &str = "Taken in and at hand: {}.";
pub(crate) const LEFT_OUT_OF_FILE: &str = "Left out, because it could not be read:";
pub(crate) const FILE_REFUSED: &str = "Nothing was taken in:";
pub(crate) const FILE_TOO_LONG: &str = "longer than 1 MB is no job file, and longer than 100 MB no file of all cars.";
pub(crate) const FILE_UNREAD: &str = "the file could not be read.";
pub(crate) const NO_SHELF: &str = "This browser keeps the car at hand and no others: save each as a file.";
pub(crate) const SHELF_REFUSED: &str =
    "This browser does not let the page keep more than the car at hand: save each as a file.";
pub(crate) const SHELF_FULL: &str = "The storage of this phone is full: the last change is not among the cars kept. Take a car away, or save \
    this one as a file.";
pub(crate) const SHELF_NEWER: &str =
    "The page was updated in another tab: reload it here. Until then cars other than the one at hand are not kept.";
pub(crate) const SHELF_LOST: &str = "The browser lost its storage: the last change is not among the cars kept. It is tried again with the next \
    change; if this stays, reload the page.";
pub(crate) const PHOTO: &str = "Photo of it";
pub(crate) const PHOTO_ALT: &str = "Photo of this line as you took it";
pub(crate) const TAKE_PHOTO: &str = "take one";
pub(crate) const CHOOSE_PHOTO: &str = "choose one that you have";
pub(crate) const PHOTO_HOW: &str =
    "Kept on this phone, and in the file of all cars; neither in the file of this car nor in a link.";
pub(crate) const NO_PHOTO: &str = "That could not be read as a picture.";
pub(crate) const NAME_LINE_FIRST: &str = "Name the line first.";

/// The unit as it stands in a head.
pub(crate) fn unit(unit: LengthUnit) -> &'static str {
    match unit {
        LengthUnit::Millimetre => "mm",
        LengthUnit::Inch => "in",
    }
}

/// The verdict as a word beside its mark, for those who do not see the mark.
pub(crate) fn verdict(name: &str) -> &'static str {
    match name {
        "pass" => "passes",
        "warn" => "take care",
        "fail" => "fails",
        _ => "not checked",
    }
}

/// A check by the name a person at the car would give it.
pub(crate) fn check(name: &str) -> &str {
    match name {
        "reach" => "Reach",
        "piece" => "The piece you have",
        "fit" => "Fit on the spigot",
        "bead" => "Over the bead",
        "seat" => "Seat",
        "clamp" => "Clamp",
        "assembly" => "Getting it on",
        "kink" => "Tightest bend",
        "spigot mouth" => "Bend at the spigot",
        "standoff" => "Distance",
        "sag" => "Sag",
        "air trap" => "Air",
        "support" => "Length without a clip",
        "load" => "Pull on the spigot",
        "heat" => "Heat of the skin",
        "rising heat" => "Heat that rises",
        "pressure" => "Where the coolant boils",
        "rating" => "Rating of the hose",
        "collapse" => "Sucked flat",
        "hold" => "Hold",
        "flow" => "Flow",
        "rock" => "Rocking engine",
        "snap" => "Staying as it lies",
        "tape error" => "Error of the tape",
        other => other,
    }
}

/// A further number of a finding, and its unit; `None` for one that is told elsewhere.
pub(crate) fn extra(name: &str) -> Option<(&'static str, &'static str)> {
    Some(match name {
        "bare_c" => ("skin bare", "°C"),
        "sleeve_new_c" => ("under a new sleeve", "°C"),
        "sleeve_dirty_c" => ("under a dirty sleeve", "°C"),
        "behind_shield_c" => ("behind a flat shield", "°C"),
        "standing_c" => ("bare, with the coolant standing still", "°C"),
        "standoff_needed_mm" => ("just bears the heat bare at a gap of", "mm"),
        "standoff_needed_sleeve_new_mm" => ("under a new sleeve at", "mm"),
        "standoff_needed_sleeve_dirty_mm" => ("under a dirty one at", "mm"),
        "in_plume_c" => ("in still air above it about", "°C"),
        "collapses_at_kpa" => ("a round ring of it collapses at", "kPa"),
        "grips_alone_n" => ("the rubber alone would grip with (weak)", "N"),
        "loss_pa" => ("loses in all", "Pa"),
        "loss_bends_pa" => ("in its bends, with the friction along them", "Pa"),
        "loss_spigots_pa" => ("at the spigots", "Pa"),
        "loss_elbows_pa" => ("in elbows and joiners", "Pa"),
        "reynolds" => ("Reynolds number", ""),
        "friction_factor" => ("friction factor (Darcy)", ""),
        _ => return None,
    })
}

// How to measure it: links to the page that says so.
pub(crate) const HOW: &str = "How to measure it";
pub(crate) const HOW_SIZE: &str = "How to measure its size";
pub(crate) const HOW_POINTS: &str = "How to find which way it points";
pub(crate) const HOW_WAY: &str = "How to read it off a wire or an old hose";
