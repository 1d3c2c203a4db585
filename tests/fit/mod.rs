//! Readings back into the guesses, held against what is known otherwise: exact updates, other programs, made-up cars.

mod blower;
mod card;
mod copy;
mod cover;
mod exact;
mod leaks;
mod least_squares;
mod recorded;
mod slips;
mod stint;
mod support;
