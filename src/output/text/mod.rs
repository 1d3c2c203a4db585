//! Text.
use crate::study::result::Report;
/// Check.
pub fn check(_r: &Report, _e: &[String], _detail: bool) -> String {
    String::new()
}
/// Sweep.
pub fn sweep(_r: &Report, _w: &[String]) -> String {
    String::new()
}
/// Size.
pub fn size(_r: &Report, w: &[String]) -> String {
    w.join(" ")
}
