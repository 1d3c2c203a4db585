//! What is asked of a case: conditions, the sweep, stints.

use super::Checking;
use crate::case::tables as t;
use crate::engine::tables::GEARS;
use crate::keys::{Key, Kind, Slot, Values};

impl Checking<'_> {
    pub(super) fn conditions(&mut self) {
        let case = self.case;
        for condition in &case.conditions {
            let values = &condition.values;
            if values.written(&t::GEAR) {
                self.gear(values);
            }
            self.fans(values);
            for (name, id) in values.map(&t::TAPED) {
                let passage = case.passage(name).map(|index| &case.passages[index]);
                if passage.is_some_and(|passage| passage.whole && passage.opening().is_none()) {
                    self.fault(
                        "nothing-to-tape",
                        format!("{:?} has neither an inlet nor an exit to tape", name),
                        self.place_of_number(*id, values, &t::TAPED),
                        "tape the passage whose opening it is",
                    );
                }
            }
        }
    }

    /// What fans are told, of passages that have one.
    pub(super) fn fans(&mut self, values: &Values) {
        let case = self.case;
        let Slot::Settings(told) = values.slot(&t::FANS) else { return };
        let turns = |passage: &crate::case::PassageTable| {
            !passage.whole || (0..passage.elements.len()).any(|i| passage.kind(i).is_some_and(|k| k.is_fan()))
        };
        let with: Vec<&str> = case.passages.iter().filter(|p| turns(p)).map(|p| p.name.as_str()).collect();
        for (name, _) in told {
            let none = match case.passage(name) {
                Some(index) => !turns(&case.passages[index]),
                None => name == "*" && with.is_empty(),
            };
            if none {
                let whose = if name == "*" { "no passage".to_string() } else { format!("{name:?}") };
                let whose =
                    if name == "*" { format!("{whose} has a fan") } else { format!("{whose} has no fan") };
                let way_out = match with.is_empty() {
                    true => "take fans out, or put a fan into a passage".to_string(),
                    false => format!("fans stand in {}", with.join(", ")),
                };
                self.fault("nothing-to-turn", whose, values.place_of(&t::FANS), way_out);
            }
        }
    }

    fn gear(&mut self, condition: &Values) {
        let case = self.case;
        let place = condition.place_of(&t::GEAR);
        let Some(drive) = &case.drive else {
            return self.fault(
                "drive-missing",
                format!("{} names a gear, and the case has no [drive]", condition.address),
                place,
                "write [drive] with tyre_radius, final_drive and gears, or give rpm",
            );
        };
        let Some(gear) = self.number(condition, &t::GEAR) else { return };
        let gears = case.view(drive).list(&GEARS).len();
        if gears > 0 && gear > gears as f64 && self.sound(drive, &GEARS) {
            self.fault(
                "gear-unknown",
                format!("{} is in gear {gear}, and the drive has {gears}", condition.address),
                place,
                "name one of them, or add the ratio to drive/gears",
            );
        }
        if self.number(condition, &t::SPEED) == Some(0.0) {
            self.fault(
                "standing-in-gear",
                format!(
                    "{} stands still in gear {gear}: the engine would stand too, and every margin be met",
                    condition.address
                ),
                condition.place_of(&t::GEAR),
                r#"give the idling speed instead of gear, for example rpm = "1000 rpm""#,
            );
        }
    }

    pub(super) fn sweep(&mut self) {
        let case = self.case;
        let Some(sweep) = &case.sweep else { return };
        if case.drive.is_none() {
            self.fault(
                "drive-missing",
                "the sweep runs through the gears, and the case has no [drive]".to_string(),
                sweep.place.clone(),
                "write [drive] with tyre_radius, final_drive and gears",
            );
        }
        if let Some((from, to)) = self.number(sweep, &t::SWEEP_FROM).zip(self.number(sweep, &t::SWEEP_TO))
            && from >= to
        {
            let speed = Kind::Speed;
            self.fault(
                "sweep-upside-down",
                format!("the sweep goes from {} to {}", speed.show(from), speed.show(to)),
                sweep.place_of(&t::SWEEP_TO),
                "write the lower speed behind from",
            );
        }
    }

    pub(super) fn stints(&mut self) {
        for stint in &self.case.stints {
            let values = &stint.values;
            values.tables(&t::STEP).iter().for_each(|step| self.fans(step));
            // a list that is there and empty, which no rule between keys looks at
            let empty = |key: &Key| matches!(values.slot(key), Slot::Tables(steps) if steps.is_empty());
            if empty(&t::STEP) || empty(&t::LEG) {
                let words = &t::STINT_EMPTY;
                let message = words.says.replace("{table}", &values.address);
                self.fault(words.code, message, values.place_of(&t::STEP), words.way_out);
            }
        }
    }
}
