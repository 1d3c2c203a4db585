//! The crate's formulas against figures from outside, one file for each authority.
//!
//! Standing of a figure, said beside each check:
//! - *printed*: stands in the named book, paper or standard, page given, and was read again for
//!   this project (textbook examples mostly in worked solutions that reprint inputs and answer);
//! - *from memory*: not looked up; checked loosely, within a band;
//! - *computed*: worked out for this project from the stated equation by hand, or with the
//!   general-purpose library named, version and call given.
//!
//! A tolerance is the rounding of the printed figure unless the check says why it is wider.

mod boundary_layer;
mod by_hand;
mod cengel;
mod cipm;
mod classical;
mod component_libraries;
mod draws;
mod finned_surfaces;
mod fox_mcdonald;
mod gupta;
mod incropera;
mod iso_1585;
mod iso_2533;
mod mathematics;
mod munson;
mod networks;
mod page;
mod parts_by_hand;
mod rajput;
mod reservoirs;
mod rules_of_thumb;
mod schey_pinkel;
mod support;
mod wheels;
mod words;
