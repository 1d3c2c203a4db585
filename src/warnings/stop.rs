//! Stints that stop while a chamber is heated by nothing that has a mass: the heat ends with the engine, where real
//! pipes go on giving theirs.

use super::gather::{Finding, Findings};
use super::words;
use crate::air::ZERO_CELSIUS;
use crate::case::{Case, Named, tables as t};
use crate::engine::tables as e;
use crate::keys::figures;
use crate::numerics::root;
use crate::point::model::{Model, day};
use crate::point::operation::Operation;
use crate::thermal::{HotSurface, Part};

/// Pipes that stand for what a case leaves out: 4 kg of tube 45 × 1.5 mm have 0.35 m² outside (1.6 kg a metre).
const MASS: f64 = 4.0;
const SURFACE: f64 = 0.35;
const HEIGHT: f64 = 0.045;
/// Specific heat of steel (J/(kg K)) (handbook value, from memory).
const SPECIFIC_HEAT: f64 = 480.0;
/// Temperature above which they are not sought (K).
const HOTTEST: f64 = 1400.0;

pub(super) fn look(case: &Case, model: &Model, gathered: &mut Findings) {
    for (name, id) in case.engine.map(&e::HEAT) {
        let Some(chamber) = case.chamber(name) else { continue };
        let stores =
            model.network.parts.iter().any(|part| !part.has_limit() && part.chamber == Some(chamber));
        let Some((stint, running)) = case.stints.iter().find_map(|stint| stops(case, model, stint)) else {
            continue;
        };
        let heat = model.chamber_shares[chamber] * heat_of_share(model, &running);
        if stores || heat <= 0.0 {
            continue;
        }
        let air = day(case, None);
        let Some(hot) = pipes(air.temperature, air.pressure, heat) else { continue };
        let stored = MASS * SPECIFIC_HEAT * (hot - air.temperature);
        gathered.in_file(Finding {
            code: super::STOP_WITHOUT_PIPES,
            place: Some(case.numbers.fact(*id).address.clone()),
            seen: format!(
                "stint {stint} stops the engine, and the {} that went to {name} end at once; {MASS:.0} kg of steel pipes that gave them would stand at about {} and go on to give {:.0} kJ, as much as in {:.0} s of running",
                figures::power(heat),
                words::celsius(hot - ZERO_CELSIUS),
                stored / 1e3,
                stored / heat
            ),
            what_to_do: format!(
                "write the pipes as a part without limit, with chamber = {name:?}, mass, material, surface, source_temperature and share_at, and give them this share"
            ),
            size: stored,
        });
    }
}

/// The last moment before a stint stops the engine, in a step or at its end, with the stint's name.
fn stops(case: &Case, model: &Model, stint: &Named) -> Option<(String, Operation)> {
    let operation = |index: usize| Operation::of_condition(case, model, &case.conditions[index].values);
    let steps: Vec<Operation> = stint
        .values
        .tables(&t::STEP)
        .iter()
        .filter_map(|step| step.text(&t::STEP_CONDITION).and_then(|name| case.condition(name)))
        .map(operation)
        .collect();
    let stands = |operation: &Operation| operation.rpm <= 0.0;
    if let Some(pair) = steps.windows(2).find(|pair| !stands(&pair[0]) && stands(&pair[1])) {
        return Some((stint.name.clone(), pair[0].clone()));
    }
    // what follows a stint is looked at in every condition in which the car stands
    let all = || (0..case.conditions.len()).map(operation);
    let stopped = all().any(|operation| stands(&operation) && operation.speed == 0.0);
    let last = steps
        .into_iter()
        .next_back()
        .or_else(|| all().max_by(|a, b| heat_of_share(model, a).total_cmp(&heat_of_share(model, b))));
    last.filter(|last| stopped && !stands(last)).map(|last| (stint.name.clone(), last))
}

fn heat_of_share(model: &Model, operation: &Operation) -> f64 {
    let factor = model.engine.air_factor(&operation.air);
    model.engine.running(operation.rpm, operation.load, factor).heat_of_share
}

/// Temperature (K) at which the pipes give `heat` (W) to air and walls of the day.
fn pipes(around: f64, pressure: f64, heat: f64) -> Option<f64> {
    let pipes = Part {
        limit: f64::INFINITY,
        least: None,
        bay_conductance: 0.0,
        surface: Some(HotSurface { area: SURFACE, height: HEIGHT, emissivity: 0.8 }),
        chamber: None,
        source_temperature: HOTTEST,
        reference_temperature: around,
        heat_capacity: None,
    };
    let left = |hot: f64| pipes.given_to_air(hot, around, pressure).0 - heat;
    let (cold, most) = (left(around), left(HOTTEST));
    (cold < 0.0 && most > 0.0).then(|| root::bracketed(left, around, HOTTEST, cold, most, 0.01))
}

#[cfg(test)]
mod tests {
    use super::{HEIGHT, SURFACE, pipes};
    use crate::correlations::natural_convection::still_air_and_slopes;

    #[test]
    fn the_pipes_give_the_heat_asked_of_them() {
        let hot = pipes(300.0, 101_325.0, 2000.0).expect("a temperature");
        let still = still_air_and_slopes(HEIGHT, hot, 300.0, 101_325.0).0 * SURFACE * (hot - 300.0);
        let radiated = 0.8 * 5.670_374e-8 * SURFACE * (hot.powi(4) - 300.0_f64.powi(4));
        assert!((still + radiated - 2000.0).abs() < 0.5, "{hot}: {still} and {radiated}");
        // more than all that steel can give before it melts is no pipe's
        assert_eq!(pipes(300.0, 101_325.0, 1e6), None);
    }
}
