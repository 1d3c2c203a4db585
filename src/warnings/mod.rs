//! Warnings: what a builder should see before he believes a result, with the number that shows it.
//!
//! | function | what it looks at |
//! | --- | --- |
//! | [`of_case`] | the case file alone: entries that look right and are wrong, guesses that count |
//! | [`of_conditions`] | solved conditions: air that runs the wrong way, states outside a law's range |
//! | [`echoes`] | nothing wrong, but figures in which a slip of the pen would show |
//!
//! What shows while the elements' laws are made (areas that jump, pulleys upside down) stands in
//! [`Model::warnings`]. A warning never stops a run. One code at one address is said once, with every
//! condition concerned and the worst figure.

mod carburettor;
mod condition;
mod cuts;
mod echo;
mod engine;
mod exits;
mod fan;
mod file;
mod flow;
mod flush;
mod gather;
mod names;
mod oil;
mod slips;
mod standing;
mod state;
mod stop;
mod sudden;
mod surfaces;
mod tees;
pub mod weight;
pub(super) mod words;

use crate::case::{Case, Warning};
use crate::point::model::Model;
use crate::point::result::Condition;
use condition::SolvedCondition;
use gather::Findings;
pub use state::PANELS;

/// Code of the warning of heat that ends with the engine in a stint.
pub const STOP_WITHOUT_PIPES: &str = "stop-without-pipes";

/// Code of the warning of air hot enough to soften resin, where no limit is typed.
pub const PANEL_TEMPERATURE: &str = "panel-temperature";
/// Code of the warning of air over the limit that was typed for its chamber.
pub const CHAMBER_OVER_LIMIT: &str = "chamber-over-limit";

/// Every code of a warning, with what it means; the first ones stand in [`Model::warnings`].
pub const CODES: &[(&str, &str)] = &[
    // while the laws of the elements are made
    ("diffuser-stalls", "a diffuser widens so fast that the flow may leave its wall"),
    ("exit-pushed-in", "the place of an exit pushes air in"),
    ("fan-slower-than-engine", "a fan turns slower than the engine that drives it"),
    ("fan-size-beyond-range", "a wheel is smaller or larger than its usual curve stands for"),
    ("fan-point-off-band", "a fan's measured point is far from what is usual for its wheel"),
    ("standing-fan-without-size", "a fan that stands has no size and costs no pressure"),
    ("roughness-beyond-range", "a wall is rougher than its friction formula allows"),
    ("negative-loss", "a loss, or a leg of a tee, pushes"),
    ("vanes-beyond-range", "turning vanes in a bend for which their saving is not published"),
    ("bends-close", "a bend stands close behind another"),
    ("exit-thickness-beyond-range", "a wall is thicker than the discharge formula allows"),
    ("exit-edge-of-louvres", "the edge of a louvred field is not that of its slots"),
    ("exit-radius-beyond-range", "an edge is rounder than the discharge formula allows"),
    ("fins-beyond-tests", "fins without a baffle have a dimension beyond the tests behind their formula"),
    ("rating-near-limit", "a core's rating is near all that the air or the oil can carry"),
    // what has no answer
    ("condition-unsolved", "a condition has no steady state; the others are shown"),
    ("stint-faulty", "a stint cannot be run as it is written; what else was asked for is not touched by it"),
    // told by a run in time
    ("run-fits-no-gear", "the engine speeds of a recorded run fit no gear at its road speeds"),
    ("run-speed-beyond-power", "a recorded run is faster than the engine's power can be"),
    ("run-column-constant", "a column of a recorded run never changes"),
    ("run-gaps", "gaps take a good part of a recorded run"),
    ("run-load-in-shares", "the load of a recorded run is so small that its unit may be wrong"),
    ("leg-beyond-power", "a leg asks for more power than the engine has"),
    ("laps-do-not-meet", "speeds do not meet where laps, or legs, join"),
    // what has no answer, further
    ("left-out", "something was left out, since the run stopped at its budget of work"),
    // in the file
    (
        "oil-without-friction-share",
        "a part that holds oil has no core, and nobody said what of its heat goes with friction",
    ),
    ("friction-heat-unusual", "a part takes more heat from friction than the engine's friction makes"),
    ("exit-never-enough", "exits so small that their chamber's inlets spill whatever is cooled"),
    ("openings-close", "an opening is nearer to another than twice its width"),
    ("exit-near-hazard", "hot air leaves near driver, tyre, filler or exhaust"),
    ("hole-through-flange", "an opening does not fit between flanges with its land"),
    ("recovery-assumed", "an inlet's recovery is left at its default"),
    ("diffuser-into-chamber", "a diffuser opens straight into a chamber and is reckoned too well"),
    ("inlet-in-suction", "a plain opening that should take air in lies where the air is drawn out"),
    ("chamber-names-alike", "two chambers differ so little in name that one may be a slip"),
    ("bay-conductance-missing", "a part's conductance to its chamber is left at zero"),
    ("part-without-air", "nothing that carries air cools a part"),
    ("part-without-heat", "a part is cooled, and no heat goes to it"),
    ("part-unused", "a part takes no heat and nothing cools it"),
    ("place-unused", "no element stands at a place"),
    ("limit-measured-where", "a limit does not say where it is measured"),
    ("limit-unusual", "a limit is so high that its unit may be wrong"),
    ("chamber-dead-end", "one passage alone joins a chamber, and no air moves through it"),
    ("pressure-above-sea-level", "the pressure is above that of the standard atmosphere at sea level"),
    ("power-correction-beyond-range", "the power correction is beyond what its standard accepts"),
    ("engine-air-shares", "the passages to the engine do not add up to the engine's air"),
    ("cooling-share-unusual", "the heat shares of the finned parts are outside the usual band"),
    ("oil-share-unusual", "the heat share of the oil is outside the usual band"),
    (
        STOP_WITHOUT_PIPES,
        "a stint stops the engine while heat goes to a chamber from nothing that has a mass",
    ),
    ("wind-cut", "a tail wind is faster than the car, and the air is taken as still"),
    ("temperature-unusual", "a temperature is so high that its unit may be wrong"),
    ("tyre-radius-unusual", "a tyre's radius is so large that it may be the diameter"),
    ("gears-rising", "a gear is no taller than the one before it"),
    (
        "top-speed-unusual",
        "top gear gives a speed at the power peak that the power cannot hold, or far less than it could",
    ),
    ("size-unusual", "an opening is so large, or a side so long, that its unit may be wrong"),
    ("fan-curve-unusual", "a fan's curve takes more power, or drives the air faster or slower, than fans do"),
    // in a solution: which way the air goes
    ("inlet-blows-out", "air blows out of an inlet"),
    ("exit-draws-in", "an exit draws air in"),
    ("passage-runs-back", "the air of a passage runs back"),
    ("recirculation-off", "warm air drawn in again is left out because a passage runs back"),
    ("flush-ramp", "the ramp of a flush inlet is not at 7°"),
    ("flush-proportions", "the lip of a flush inlet is too slender or too square"),
    ("flush-recovery-from-place", "a flush inlet takes the recovery meant for inlets that face the stream"),
    (
        "flush-inlet-rising",
        "the push of a flush inlet may grow faster with the flow than the losses behind it",
    ),
    ("flush-layer-thick", "the skin's layer is thicker than a flush inlet's lip is high"),
    ("flush-beyond-tests", "air enters a flush inlet faster than was tested"),
    ("forward-inlet-better", "a forward inlet would do better than a flush one"),
    ("exit-jet-slow", "the jet of an exit is slower than the stream over it"),
    ("tee-runs-against", "the air runs through a tee the third way"),
    ("inlet-spills", "an inlet is so large that most of the stream spills round it"),
    ("nothing-moves-the-air", "the engine runs, the car stands, and no fan turns"),
    ("fan-too-fast", "a fan turns far above the speed of its curve"),
    ("fan-overrun", "more air is driven through a fan than its curve reaches"),
    ("fan-windmills", "more air goes through a fan than it can push, and turns it"),
    ("fan-reynolds", "a wheel turns so slowly that its usual curve stands no longer"),
    ("fan-tips-too-fast", "a wheel's tips are faster than its usual curve stands for"),
    ("fan-before-curve", "less air goes through a fan than its curve begins with"),
    ("sudden-change", "the air's way widens or narrows suddenly, which takes a good part of what drives it"),
    // in a solution: the engine
    ("rpm-above-range", "the engine turns faster than [drive] says is used"),
    ("rpm-below-range", "the engine turns slower than [drive] says is used"),
    ("rpm-fits-no-gear", "the engine speed that is given fits no gear at that road speed"),
    ("power-above-curve", "the engine turns faster than its power is known"),
    ("power-below-curve", "the engine turns slower than its power is known"),
    ("air-fuel-ratio", "power, efficiency and air breathed do not fit together"),
    ("heat-over-fuel", "brake power and the heat found exceed the fuel's heat, the parts being cold"),
    ("heat-scaled-down", "heat shares and brake power would exceed the fuel's heat"),
    ("engine-stands", "the engine stands, so that every margin is met"),
    ("carburettor-on-warm-air", "the carburettor breathes air warmer than that outside"),
    ("oil-flow-unusual", "the oil cools so little in its core that the unit of its flow may be wrong"),
    // in a solution: states
    ("two-steady-states", "the air can settle in two ways; the hotter is shown"),
    ("heat-without-end", "heated air stands between walls that take no heat"),
    ("air-stands", "nothing moves the air of a heated chamber while the car runs"),
    (
        "air-too-fast",
        "air is faster than a third of the speed of sound, where density is no longer that of the room",
    ),
    ("chamber-pressure", "a chamber's pressure is too far from that of the day"),
    ("skin-layer-reynolds", "the skin layer before an inlet is below the range of its formula"),
    ("screen-reynolds", "the air through a screen is slower than its formula allows"),
    ("fins-reynolds", "the air between fins is beyond the range of the formula of their conductance"),
    (PANEL_TEMPERATURE, "a chamber's air is hot enough to soften resin"),
    (CHAMBER_OVER_LIMIT, "a chamber's air is hotter than the limit typed for it"),
    ("below-least", "a part is colder than its lower limit"),
    ("least-missed", "a part of a warm car is colder than its lower limit"),
    ("tape-left-on", "a part is too hot while its own opening is taped"),
];

/// What a warning's code says, in a sentence; the code itself where it has none.
pub fn meaning(code: &'static str) -> &'static str {
    CODES.iter().find(|(known, _)| *known == code).map_or(code, |(_, words)| words)
}

/// What a builder should see before he cuts to sizes that were found: all warnings of the case so sized that the
/// case as drawn does not have, by code and address.
pub fn at_sizes(sized: &Case, drawn: &Case) -> Vec<Warning> {
    let all = |case: &Case| -> Vec<Warning> {
        let Ok(model) = Model::new(case) else { return Vec::new() };
        let (conditions, _) = crate::point::conditions::solved(case, &model);
        of_all(case, &model, &conditions)
    };
    brought(all(sized), &all(drawn))
}

/// Every warning of a case that was solved.
pub fn of_all(case: &Case, model: &Model, conditions: &[Condition]) -> Vec<Warning> {
    let mut list = model.warnings.clone();
    list.extend(of_case(case, model));
    list.extend(of_conditions(case, model, conditions));
    list
}

/// Those that are not known already, by code and address.
pub fn brought(all: Vec<Warning>, known: &[Warning]) -> Vec<Warning> {
    let is_known = |warning: &Warning| {
        known.iter().any(|other| other.code == warning.code && other.place == warning.place)
    };
    all.into_iter().filter(|warning| !is_known(warning)).collect()
}

/// What shows in the case file alone.
pub fn of_case(case: &Case, model: &Model) -> Vec<Warning> {
    let mut gathered = Findings::default();
    file::look(case, model, &mut gathered);
    engine::look_at_file(case, model, &mut gathered);
    slips::look(case, model, &mut gathered);
    names::look(case, &mut gathered);
    stop::look(case, model, &mut gathered);
    cuts::look(case, model, &mut gathered);
    let mut list = gathered.into_warnings();
    list.extend(case.seen.iter().cloned());
    list
}

/// What shows in solved conditions; those that the case does not name are passed over.
pub fn of_conditions(case: &Case, model: &Model, conditions: &[Condition]) -> Vec<Warning> {
    let mut gathered = Findings::default();
    for at in conditions.iter().filter_map(|condition| SolvedCondition::new(case, model, condition)) {
        flow::look(&at, &mut gathered);
        sudden::look(&at, &mut gathered);
        fan::look(&at, &mut gathered);
        engine::look(&at, &mut gathered);
        carburettor::look(&at, &mut gathered);
        exits::look(&at, &mut gathered);
        flush::look(&at, &mut gathered);
        tees::look(&at, &mut gathered);
        standing::look(&at, &mut gathered);
        oil::look(&at, &mut gathered);
        state::look(&at, &mut gathered);
    }
    state::look_at_sweep(case, model, &mut gathered);
    gathered.into_warnings()
}

/// Lines that let a slip be seen: each opening's total area, each fan's speed, each part's total
/// conductance and the rise of its air, each chamber with what enters and leaves.
pub fn echoes(case: &Case, model: &Model, conditions: &[Condition]) -> Vec<String> {
    echo::lines(case, model, conditions)
}
