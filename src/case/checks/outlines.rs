//! Outlines that can be cut: a trapezium has a narrow side, and what is cut finds room.

use super::Checking;
use crate::element::outline::{
    FIXED_HEIGHT, FIXED_WIDTH, LAND, MOST_HEIGHT, MOST_WIDTH, NARROW_SIDE, OUTLINE, SHAPE,
};
use crate::keys::{Kind, Values};

impl Checking<'_> {
    pub(super) fn outline(&mut self, element: &Values) {
        let Some(outline) = element.table(&OUTLINE) else { return };
        let other = outline.text(&SHAPE).unwrap_or("rectangle");
        if outline.written(&NARROW_SIDE) && other != "trapezium" && self.sound(outline, &SHAPE) {
            self.fault(
                "narrow-side-without-trapezium",
                format!(
                    "{}: narrow_side is the upper side of a trapezium, and the shape is a {other}",
                    outline.address
                ),
                outline.place_of(&NARROW_SIDE),
                r#"write shape = "trapezium", or take narrow_side out"#,
            );
        }
        let Some(land) = self.number(outline, &LAND) else { return };
        for (most, fixed) in [(&MOST_WIDTH, &FIXED_WIDTH), (&MOST_HEIGHT, &FIXED_HEIGHT)] {
            let Some(room) = self.number(outline, most) else { continue };
            let needed = self.number(outline, fixed).unwrap_or(0.0) + 2.0 * land;
            if needed >= room + 1e-9 || room <= 2.0 * land {
                let what = match outline.has(fixed) {
                    true => format!("{} and the land on either side need", fixed.name),
                    false => "the land on either side alone needs".to_string(),
                };
                self.fault(
                    "outline-without-room",
                    format!(
                        "{}: {what} {}, and {} leaves {}",
                        outline.address,
                        Kind::Length.show(needed),
                        most.name,
                        Kind::Length.show(room)
                    ),
                    outline.place_of(most),
                    "measure the skin from flange to flange, keep less land, or cut elsewhere",
                );
            }
        }
    }
}
