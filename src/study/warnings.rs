//! Warnings.
use super::Model; use super::result::Condition; use crate::case::{Case, Warning};
/// Of the case.
pub fn of_case(_c: &Case, _m: &Model) -> Vec<Warning> { Vec::new() }
/// Of conditions.
pub fn of_conditions(_c: &Case, _m: &Model, _x: &[Condition]) -> Vec<Warning> { Vec::new() }
/// Echoes.
pub fn echoes(_c: &Case, _m: &Model, _x: &[Condition]) -> Vec<String> { Vec::new() }
