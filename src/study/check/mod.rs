//! What `check` tells beside the conditions as solved: what nobody wrote and what it would cost, what a change would
//! win, which guess decides.

pub mod advice;
pub mod beside;
pub mod offers;
pub mod openings;
pub mod ram_over_fan;
pub mod sensitivity;
pub mod stand_off;
pub mod sudden;
