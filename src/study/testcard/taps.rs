//! Taps and thermocouples: where each goes, and what it is called on the card.

use super::result::Tap;
use crate::case::{Case, tables as t};
use crate::element::size::PLACE;
use crate::readings::{GaugeEnd, Quantity, Reading};

/// All that the readings of a card need, in the order in which they are first asked for.
#[derive(Default)]
pub(super) struct Taps(pub Vec<Tap>);

impl Taps {
    /// What a reading is called: "P1 − P2", "T1".
    pub fn of(&mut self, case: &Case, reading: &Reading) -> String {
        match reading.what {
            Quantity::Difference { of, over } => {
                let (of, over) = (self.leg(case, of), self.leg(case, over));
                format!("{of} − {over}")
            }
            Quantity::Part(part) | Quantity::Mean(part) => {
                let named = &case.parts[part];
                let spot = named.values.text(&t::MEASURED_AT).map_or("where its limit holds", |spot| spot);
                let several = case.above_mean(part) > 0.0;
                let more = if several { "; one on each of several alike, the hottest counts" } else { "" };
                let place = format!("{spot}{more}");
                self.call('T', &named.name, place)
            }
            Quantity::Leaks { .. } => self.over_still_air(case),
            Quantity::Air(chamber) => {
                let place = "middle of the space, out of sight of hot metal".to_string();
                self.call('A', &format!("air in {}", case.chambers[chamber].name), place)
            }
            Quantity::Behind { part, passage, .. } => {
                let what = format!("air behind {}", case.parts[part].name);
                let place = format!(
                    "{}: middle of the stream, a hand behind the fins or the core",
                    case.passages[passage].name
                );
                self.call('A', &what, place)
            }
        }
    }

    /// The same where the car stands and no wind blows: the skin's pressure is that of the air.
    pub fn of_bench(&mut self, case: &Case, reading: &Reading) -> String {
        match reading.what {
            Quantity::Difference { of, over: GaugeEnd::Skin { .. } | GaugeEnd::Place(_) } => {
                let (of, over) = (self.leg(case, of), self.leg(case, GaugeEnd::StillAir));
                format!("{of} − {over}")
            }
            _ => self.of(case, reading),
        }
    }

    /// The pressure of a space over that outside at rest: the bench.
    pub fn over_still_air(&mut self, case: &Case) -> String {
        let space = self.leg(case, GaugeEnd::Chamber(bay(case)));
        let outside = self.leg(case, GaugeEnd::StillAir);
        format!("{space} − {outside}")
    }

    fn leg(&mut self, case: &Case, leg: GaugeEnd) -> String {
        let position = |name: Option<&str>| {
            let place = name.and_then(|name| case.places.iter().find(|place| place.name == name));
            place
                .and_then(|place| place.values.text(&t::POSITION))
                .map_or(String::new(), |at| format!(" ({at})"))
        };
        match leg {
            GaugeEnd::Chamber(chamber) => {
                let place =
                    "out of every draught and jet: the end in a wad of foam, or in a tin with small holes";
                self.call('P', &case.chambers[chamber].name, place.to_string())
            }
            GaugeEnd::Skin { passage, element } => {
                let named = &case.passages[passage];
                let at = position(named.elements[element].text(&PLACE));
                let place = format!(
                    "flush with the skin a hand beside the opening{at}: a tube square through a card taped flat"
                );
                self.call('P', &format!("skin at {}", named.name), place)
            }
            GaugeEnd::Place(place) => {
                let name = &case.places[place].name;
                let at = position(Some(name));
                let place = format!("flush with the skin{at}: a tube square through a card taped flat");
                self.call('P', &format!("skin at {name}"), place)
            }
            GaugeEnd::StillAir => {
                self.call('P', "still air", "open, in the shade of the wind, away from the car".to_string())
            }
        }
    }

    fn call(&mut self, kind: char, what: &str, place: String) -> String {
        if let Some(known) = self.0.iter().find(|tap| tap.what == what && tap.letter.starts_with(kind)) {
            return known.letter.clone();
        }
        let number = self.0.iter().filter(|tap| tap.letter.starts_with(kind)).count() + 1;
        let letter = format!("{kind}{number}");
        self.0.push(Tap { letter: letter.clone(), what: what.to_string(), place });
        letter
    }
}

/// The space that is blown up on the bench: the one into which most passages lead.
pub(super) fn bay(case: &Case) -> usize {
    let leading = |name: &str| case.passages.iter().filter(|passage| passage.to == name).count();
    let spaces = case.chambers.iter().enumerate();
    spaces
        .max_by(|a, b| leading(&a.1.name).cmp(&leading(&b.1.name)).then(b.0.cmp(&a.0)))
        .map_or(0, |(index, _)| index)
}
