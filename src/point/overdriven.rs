//! Fans that the case turns so fast that no air would take what they push.

use super::gearing::{self, Gearing};
use crate::case::{Case, Diagnostic, Diagnostics, FaultPlace, tables as t};
use crate::element::fan::{self, FanSetting};
use crate::engine::Engine;
use crate::keys::{Slot, Values};
use crate::network::Network;

/// The highest speed of the engine (rev/min) that the case asks for.
fn highest_rpm(case: &Case, engine: &Engine) -> f64 {
    let of_conditions =
        case.conditions.iter().map(|condition| gearing::rpm_of(case, engine, &condition.values));
    let of_sweeps = Gearing::read(case, engine).map_or(engine.power.known().1, |gears| gears.highest);
    of_conditions.fold(of_sweeps, f64::max)
}

/// What conditions and steps of stints tell the fan of a passage, and that it turns as its table says.
fn settings(case: &Case, passage: &str) -> Vec<FanSetting> {
    let steps = case.stints.iter().flat_map(|stint| stint.values.tables(&t::STEP));
    let told = case.conditions.iter().map(|condition| &condition.values).chain(steps);
    let told = told.filter_map(|values: &Values| match values.slot(&t::FANS) {
        Slot::Settings(settings) => Some(settings),
        _ => None,
    });
    let words = told.flatten().filter(|(name, _)| name == passage || name == "*");
    std::iter::once(FanSetting::AsSet).chain(words.map(|(_, word)| FanSetting::of(word))).collect()
}

/// Refuses fans that, at the speed they are turned to, would push ten atmospheres. Two zeros that slipped in
/// `reference_speed` makes megapascals of a curve: air of one density says nothing there, and no solution is owed.
pub(super) fn refuse(case: &Case, network: &Network, engine: &Engine, faults: &mut Diagnostics) {
    let rpm = highest_rpm(case, engine);
    for (passage, built) in case.passages.iter().zip(&network.passages) {
        let laws = &network.laws[built.elements.clone()];
        let fans =
            passage.elements.iter().zip(laws).filter_map(|(values, law)| Some((values, law.as_fan()?)));
        for (values, law) in fans {
            let mut law = law.clone();
            let turned = settings(case, &passage.name).into_iter().map(|setting| {
                law.tell(setting);
                law.speed_at(rpm)
            });
            let speed = turned.fold(0.0, f64::max);
            let rise = law.shut_off(speed);
            if rise <= fan::HIGHEST_RISE {
                continue;
            }
            let reference = law.reference_speed();
            let of_curve = values.written(&fan::REFERENCE_SPEED);
            let place = if of_curve { values.place_of(&fan::REFERENCE_SPEED) } else { values.place.clone() };
            let says = if of_curve { "its curve holds" } else { "it is known" };
            faults.push(Diagnostic::new(
                "fan-beyond-air",
                format!(
                    "{}: {says} at {reference:.0} rpm, and the case turns it to {speed:.0} rpm, {:.0} times as fast: it would push {:.0} kPa, and {:.0} kPa is the most that a fan may",
                    values.address,
                    speed / reference,
                    rise / 1000.0,
                    fan::HIGHEST_RISE / 1000.0,
                ),
                FaultPlace::from(place),
                "look at the zeros of both speeds: reference_speed is the one that the maker's curve was measured at; top_speed says where the drive slips",
            ));
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::case::load;
    use crate::point::Model;

    const ENGINES: &str = include_str!("../../cases/quarry-sprinter.toml");
    const OWN: &str = include_str!("../../cases/stubble-buggy.toml");

    fn said(text: &str, settings: &[(&str, &str)]) -> Vec<(&'static str, String)> {
        let settings: Vec<(String, String)> =
            settings.iter().map(|(at, what)| (at.to_string(), what.to_string())).collect();
        let case = load(text, &settings).expect("it can be read").case;
        let faults = Model::new(&case).err();
        let list = faults.map_or(Vec::new(), |faults| faults.list().to_vec());
        list.into_iter().map(|fault| (fault.code, fault.message)).collect()
    }

    #[test]
    fn a_fan_that_would_push_beyond_air_is_refused() {
        assert_eq!(said(ENGINES, &[]), []);
        assert_eq!(said(OWN, &[]), []);
        for (text, address, value, times) in [
            (ENGINES, "passage/fan/fan/reference_speed", "80 rpm", "times as fast"),
            // by the engine's highest speed, which no condition need ask for
            (ENGINES, "drive/highest", "199000 rpm", "times as fast"),
            (OWN, "passage/fan/fan/reference_speed", "29 rpm", "100 times as fast"),
            (OWN, "passage/fan/fan/speed", "290000 rpm", "100 times as fast"),
        ] {
            let faults = said(text, &[(address, value)]);
            assert_eq!(
                faults.iter().map(|fault| fault.0).collect::<Vec<_>>(),
                ["fan-beyond-air"],
                "{address}"
            );
            assert!(faults[0].1.contains(times) && faults[0].1.contains("1000 kPa"), "{}", faults[0].1);
        }
        // where the drive slips, nothing is turned so fast
        let slips = [("passage/fan/fan/reference_speed", "80 rpm"), ("passage/fan/fan/top_speed", "160 rpm")];
        assert_eq!(said(ENGINES, &slips), []);
    }

    #[test]
    fn what_a_condition_or_a_step_tells_a_fan_counts() {
        let told = |text: String| said(&text, &[]).into_iter().map(|fault| fault.0).collect::<Vec<_>>();
        // a slip of one zero alone is warned of
        let slow = ENGINES.replace(r#"reference_speed = "8000 rpm""#, r#"reference_speed = "800 rpm""#);
        let step = |speed: &str| {
            let queue = r#"{ condition = "queue", time = "240 s""#;
            slow.replacen(queue, &format!(r#"{queue}, fans = {{ fan = "{speed}" }}"#), 1)
        };
        let condition = |word: &str| {
            let table = "[[condition]]\n";
            slow.replacen(table, &format!("{table}fans = {{ fan = \"{word}\" }}\n"), 1)
        };
        for told_at in [told(step("9000 rpm")), told(condition("9000 rpm"))] {
            assert_eq!(told_at, Vec::<&str>::new());
        }
        for told_at in [told(step("60000 rpm")), told(condition("60000 rpm"))] {
            assert_eq!(told_at, ["fan-beyond-air"]);
        }
    }
}
