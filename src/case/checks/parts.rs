//! Parts: temperatures in their order, and what they are made of.

use super::Checking;
use crate::case::tables as t;
use crate::keys::figures::in_a_row;
use crate::keys::{Key, Kind, SourceLocation, Values};

impl Checking<'_> {
    pub(super) fn parts(&mut self) {
        let case = self.case;
        for part in &case.parts {
            self.limited(&part.values);
            self.temperatures(&part.values);
            self.made_of(&part.values);
        }
    }

    /// A part has a limit, or is a store of heat of which nothing is asked.
    fn limited(&mut self, part: &Values) {
        let limit = part.written(&t::LIMIT);
        if !limit && !part.written(&t::SHARE_AT) {
            self.fault(
                "key-missing",
                format!("{} has neither limit nor share_at", part.address),
                part.place.clone(),
                "give limit, the highest temperature allowed where it is measured. A store of heat that nothing limits, as exhaust pipes, has share_at in its place: the temperature at which its share of heat holds",
            );
        } else if !limit {
            let of_limit = [&t::LEAST, &t::HOTTEST_ABOVE_MEAN, &t::MEASURED_AT];
            let written: Vec<&Key> = of_limit.into_iter().filter(|key| part.written(key)).collect();
            if let Some(first) = written.first() {
                let names: Vec<&str> = written.iter().map(|key| key.name).collect();
                self.fault(
                    "limit-missing",
                    format!("{} has {} and no limit to go with it", part.address, in_a_row(&names)),
                    part.place_of(first),
                    "give limit too; without one the part is a store of heat alone, of which nothing is asked",
                );
            }
        }
        for key in [&t::SURFACE_HEIGHT, &t::EMISSIVITY] {
            if part.written(key) && !part.written(&t::SURFACE) {
                self.fault(
                    "surface-missing",
                    format!("{} has {} and no surface, which it is of", part.address, key.name),
                    part.place_of(key),
                    r#"give surface too, as in surface = "0.2 m2""#,
                );
            }
        }
    }

    fn temperatures(&mut self, part: &Values) {
        let show = |value: f64| Kind::Temperature.show(value);
        let limit = self.number(part, &t::LIMIT);
        let working =
            limit.zip(self.number(part, &t::HOTTEST_ABOVE_MEAN)).map(|(limit, above)| limit - above);
        // the place of what the builder wrote himself
        let written = |keys: &[&Key]| -> SourceLocation {
            keys.iter()
                .find(|key| part.written(key))
                .map_or_else(|| part.place.clone(), |key| part.place_of(key))
        };
        if let Some((source, working)) = self.number(part, &t::SOURCE_TEMPERATURE).zip(working)
            && source <= working
        {
            self.fault(
                    "source-below-limit",
                    format!(
                        "{} is heated by a source of {} and may reach {}: it would need no cooling",
                        part.address,
                        show(source),
                        show(working)
                    ),
                    written(&[&t::SOURCE_TEMPERATURE, &t::LIMIT]),
                    "source_temperature is that of the gas or surface that heats the part, above its working limit",
                );
        }
        if let Some((source, at)) =
            self.number(part, &t::SOURCE_TEMPERATURE).zip(self.number(part, &t::SHARE_AT))
            && source <= at
        {
            self.fault(
                    "source-below-share-at",
                    format!(
                        "{} takes its share of heat at {}, where its source of {} would give none",
                        part.address,
                        show(at),
                        show(source)
                    ),
                    written(&[&t::SHARE_AT]),
                    "share_at is the part's own temperature, below that of its source; left out: its working limit",
                );
        }
        if let Some((least, working)) = self.number(part, &t::LEAST).zip(working)
            && least >= working
        {
            self.fault(
                "least-above-limit",
                format!("{} should be at least {} and at most {}", part.address, show(least), show(working)),
                written(&[&t::LEAST]),
                "least must lie below the limit with hottest_above_mean taken off",
            );
        }
    }

    fn made_of(&mut self, part: &Values) {
        let lonely = match (part.written(&t::MASS), part.written(&t::MATERIAL)) {
            (true, false) => Some((&t::MASS, "mass without its material")),
            (false, true) => Some((&t::MATERIAL, "material without its mass")),
            _ => None,
        };
        if let Some((key, what)) = lonely {
            self.fault(
                "mass-and-material",
                format!("{} has a {what}", part.address),
                part.place_of(key),
                r#"give both, as in mass = "14 kg", material = "aluminium"; or heat_capacity alone"#,
            );
        }
    }
}
