//! Parts: temperatures in their order.

use super::Checking;
use crate::case::tables as t;
use crate::keys::{Key, Kind, SourceLocation, Values};

impl Checking<'_> {
    pub(super) fn parts(&mut self) {
        let case = self.case;
        for part in &case.parts {
            self.temperatures(&part.values);
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
}
