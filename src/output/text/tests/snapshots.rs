//! Each function's text, without its styling, as it was last looked at and found good.

use super::sample;
use crate::output::text::Depth;
use crate::output::text::{check, size, sweep};

pub(super) fn plain(text: &str) -> String {
    anstream::adapter::strip_str(text).to_string()
}

#[test]
fn check_in_short() {
    insta::assert_snapshot!(plain(&check(
        &sample::report(),
        &sample::echoes(),
        Depth::Detail,
        ("car.toml", true)
    )));
}

#[test]
fn check_in_detail() {
    insta::assert_snapshot!(plain(&check(
        &sample::report(),
        &sample::echoes(),
        Depth::All,
        ("car.toml", true)
    )));
}

#[test]
fn check_on_one_screen() {
    insta::assert_snapshot!(plain(&check(
        &sample::report(),
        &sample::echoes(),
        Depth::Short,
        ("car.toml", true)
    )));
}

#[test]
fn sizes_on_one_screen() {
    insta::assert_snapshot!(plain(&size(
        &sample::sized(true),
        &["moth-sized.toml".to_string()],
        Depth::Short
    )));
}

#[test]
fn a_sweep() {
    insta::assert_snapshot!(plain(&sweep(&sample::swept(), &["moth-margin.svg".to_string()], Depth::Detail)));
}

#[test]
fn sizes_that_do() {
    insta::assert_snapshot!(plain(&size(
        &sample::sized(true),
        &["moth-sized.toml".to_string()],
        Depth::Detail
    )));
}

#[test]
fn sizes_that_cannot_do() {
    insta::assert_snapshot!(plain(&size(&sample::sized(false), &[], Depth::Detail)));
}
