//! What the builder reads.

use crate::diagnostics::support::{BASE, edited, faults, faults_with, plain};
use insta::assert_snapshot;

fn of(text: &str) -> String {
    plain(&faults(text), text)
}

#[test]
fn a_bare_number() {
    assert_snapshot!(of(&edited("length = \"220 mm\"", "length = 220")), @r#"
    fault: unit-missing
      `220` has no unit; a length is wanted here
      car.toml, line 86, column 33

          { kind = "diffuser", length = 220 },
                                        ‾‾‾

      What to do: Write a length with its unit, for example "240 mm". Units: mm, cm, dm, m, km, um, in, ft, yd, thou.

    1 fault; nothing was written
    "#);
}

#[test]
fn a_key_with_a_slip() {
    assert_snapshot!(of(&edited("hottest_above_mean", "hottest_above_men")), @r#"
    fault: unknown-key
      part/heads has no key hottest_above_men
      car.toml, line 31, column 1

        hottest_above_men = "12 K"
        ‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾

      What to do: did you mean hottest_above_mean?

    1 fault; nothing was written
    "#);
}

#[test]
fn more_heat_than_fuel() {
    assert_snapshot!(of(&edited("heads = \"11 %\"", "heads = \"71 %\"")), @r#"
    fault: heat-shares-over-one
      heat takes 84 % of the fuel's heat and brake power 24 %, together 108 %
      car.toml, line 23, column 1

        [engine.heat]
        ‾‾‾‾‾‾‾‾‾‾‾‾‾

      What to do: lower the shares, or write heat_shares_of = "brake power" if that is what they are shares of

    1 fault; nothing was written
    "#);
}

#[test]
fn a_chamber_split_by_a_slip() {
    let text = edited(
        "name = \"barrels\"\nfrom = \"plenum\"\nto = \"bay\"",
        "name = \"barrels\"\nfrom = \"plenun\"\nto = \"baye\"",
    );
    assert_snapshot!(of(&text), @r#"
    fault: chamber-closed
      no passage joins the chambers "plenun" and "baye" with outside
      car.toml, line 76, column 8

        from = "plenun"
               ‾‾‾‾‾‾‾‾

      What to do: did you mean plenum or bay? else write a passage from or to outside; one to the engine does not count, its flow being the engine's

    1 fault; nothing was written
    "#);
}

#[test]
fn an_address_of_the_command_line() {
    let found = faults_with(BASE, &[("passage/oil coler/core/conductance", "90 W/K")]);
    assert_snapshot!(plain(&found, BASE), @r#"
    fault: address-unknown
      the case has no passage/oil coler/core/conductance: nothing is called "oil coler"
      on the command line

        --set passage/oil coler/core/conductance=90 W/K
                      ‾‾‾‾‾‾‾‾‾

      What to do: did you mean oil cooler?

    1 fault; nothing was written
    "#);
}

#[test]
fn a_layout() {
    let text =
        edited("\"passage/left exit/exit/area\" = \"320 cm2\"", "\"passage/left exit/exit/area\" = \"320\"");
    assert_snapshot!(of(&text), @r#"
    fault: unit-missing
      in the layout "one exit": `320` has no unit; an area is wanted here
      car.toml, line 154, column 41

        set = { "passage/left exit/exit/area" = "320" }
                                                ‾‾‾‾‾

      What to do: Write an area with its unit, for example "90 cm2". Units: mm2, cm2, dm2, m2, in2, ft2.

    1 fault; nothing was written
    "#);
}

#[test]
fn no_engine_and_a_name_used_twice() {
    let text = edited("name = \"straight\"", "name = \"hairpin\"");
    let (before, after) = text.split_once("[engine]").unwrap();
    let (_, after) = after.split_once("[part.heads]").unwrap();
    assert_snapshot!(of(&format!("{before}[part.heads]{after}")), @r#"
    fault: table-missing
      the case has no [engine]
      car.toml
      What to do: write [engine] with displacement and power, and [engine.heat] with the shares of heat

    fault: name-used-twice
      the name "hairpin" is used twice: another condition has it
      car.toml, line 116, column 8

        name = "hairpin"
               ‾‾‾‾‾‾‾‾‾

      What to do: rename one of them

    fault: unknown-name
      no condition is called "straight"
      car.toml, line 127, column 18

        at = ["hairpin", "straight"]
                         ‾‾‾‾‾‾‾‾‾‾

      What to do: known: queue, hairpin, sweep; or write a [[condition]] with that name

    fault: unknown-name
      no condition is called "straight"
      car.toml, line 129, column 11

        drag_at = "straight"
                  ‾‾‾‾‾‾‾‾‾‾

      What to do: known: queue, hairpin; or write a [[condition]] with that name

    4 faults; nothing was written
    "#);
}

#[test]
fn a_missing_quote() {
    assert_snapshot!(of(&edited("title = \"invented", "title = invented")), @r#"
    fault: quote-open
      the quote that closes this text has none that opens it
      car.toml, line 2, column 9

        title = invented: a two-cylinder hill-climb special with its engine in the tail"
                ‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾‾

      What to do: write "invented: a two-cylinder hill-climb special with its engine in the tail"

    1 fault; nothing was written
    "#);
}
