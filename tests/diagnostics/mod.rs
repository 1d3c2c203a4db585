//! What is wrong with a case file, said so that the builder can mend it.
//!
//! Each check starts from a sound case of an invented car (`base.toml`), spoils it in one place and
//! looks at what is reported: the code, the place, the words, a way out.

mod addresses;
mod bends;
mod fans;
mod flush;
mod layouts;
mod limits;
mod many;
mod meaning;
mod names;
mod numbers;
mod outlines;
mod rendered;
mod robust;
mod rules;
mod schema;
mod studies;
mod support;
mod surfaces;
mod tied;
mod words;

#[test]
fn the_base_case_is_sound() {
    assert_eq!(support::plain(&support::faults(support::BASE), support::BASE), "");
}
