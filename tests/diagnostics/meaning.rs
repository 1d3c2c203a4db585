//! Values that read well and do not fit together: passages, elements, chambers, the engine, parts.

use crate::diagnostics::support::{edit, edited, faults, hold, plain};

#[test]
fn sizes_of_elements() {
    hold(
        "sizes_of_elements",
        &[
            edit(
                r#"{ kind = "loss", area = "16 cm2", k = 0.6 }"#,
                r#"{ kind = "loss", k = 0.6 }"#,
                "size-missing",
                r#"{ kind = "loss", k = 0.6 }"#,
                "passage/carburettor/loss does not say how large it is",
            ),
            edit(
                r#"kind = "leak", share_of_inlets = "5 %""#,
                r#"kind = "leak", discharge = 0.7"#,
                "size-missing",
                r#"{ kind = "leak", discharge = 0.7 }"#,
                "passage/seams/leak",
            ),
            edit(
                r#"share_of_inlets = "5 %""#,
                r#"share_of_inlets = "5 %", area = "9 cm2""#,
                "said-twice",
                r#""9 cm2""#,
                "area and share_of_inlets",
            ),
            edit(
                r#"area = "48 cm2""#,
                r#"area = "48 cm2", diameter = "70 mm""#,
                "said-twice",
                r#""70 mm""#,
                "area and diameter",
            ),
            edit(
                r#"width = "150 mm", height = "80 mm""#,
                r#"width = "150 mm", area = "120 cm2", height = "80 mm""#,
                "said-twice",
                r#""80 mm""#,
                "area, width and height",
            ),
            edit(
                r#"width = "150 mm", height = "80 mm""#,
                r#"height = "80 mm""#,
                "size-incomplete",
                r#""80 mm""#,
                "has a height and no width",
            ),
            edit(
                r#"area = "300 cm2", reference_flow"#,
                r#"width = "222 mm", reference_flow"#,
                "size-incomplete",
                r#""222 mm""#,
                "has a width and no height",
            ),
            edit(
                r#"area = "300 cm2", reference_flow"#,
                r#"area = "300 cm2", diameter = "195 mm", reference_flow"#,
                "said-twice",
                r#""195 mm""#,
                "core: area and diameter",
            ),
        ],
    );
}

#[test]
fn elements_written_as_tables() {
    const SEAMS: &str = r#"element = [{ kind = "leak", share_of_inlets = "5 %" }]"#;
    hold(
        "elements_written_as_tables",
        &[edit(
            SEAMS,
            "[[passage.element]]\nkind = \"leak\"",
            "size-missing",
            "[[passage.element]]",
            "passage/seams/leak",
        )],
    );
    let text = edited(SEAMS, "[[passage.element]]\nkind = \"leak\"\narea = \"9 cm2\"");
    assert_eq!(plain(&faults(&text), &text), "");
}

#[test]
fn passages_and_their_order() {
    hold(
        "passages_and_their_order",
        &[
            edit(
                r#"to = "plenum""#,
                r#"to = "outside""#,
                "opening-missing",
                r#""outside""#,
                "passage/scoop leads outside and does not end",
            ),
            edit(
                r#"name = "heads"
from = "plenum""#,
                r#"name = "heads"
from = "outside""#,
                "opening-missing",
                r#""outside""#,
                "passage/heads comes from outside and does not begin",
            ),
            edit(
                r#"element = [{ kind = "leak","#,
                r#"element = [{ kind = "exit", area = "8 cm2" }, { kind = "leak","#,
                "element-out-of-order",
                r#"{ kind = "exit", area = "8 cm2" }"#,
                "passage/seams/exit stands before another element",
            ),
            edit(
                r#"element = [{ kind = "exit", area = "190 cm2", edge"#,
                r#"element = [{ kind = "leak", area = "7 cm2" }, { kind = "exit", area = "190 cm2", edge"#,
                "element-out-of-order",
                r#"{ kind = "leak", area = "7 cm2" }"#,
                "passage/right exit/leak is a gap in the skin",
            ),
            edit(
                r#"  { kind = "diffuser", length = "220 mm" },"#,
                r#"  { kind = "wall-inlet", area = "60 cm2" },"#,
                "element-out-of-order",
                r#"{ kind = "wall-inlet", area = "60 cm2" }"#,
                "passage/oil cooler/wall-inlet stands behind another element",
            ),
            edit(
                r#"element = [{ kind = "fins", part = "barrels""#,
                r#"element = [{ kind = "ram-inlet", area = "60 cm2" }, { kind = "fins", part = "barrels""#,
                "element-out-of-order",
                r#"{ kind = "ram-inlet", area = "60 cm2" }"#,
                r#"takes air in from outside, and the passage begins in "plenum""#,
            ),
            edit(
                r#"  { kind = "diffuser", length = "220 mm" },"#,
                r#"  { kind = "exit", area = "61 cm2" },"#,
                "element-out-of-order",
                r#"{ kind = "exit", area = "61 cm2" }"#,
                r#"passage/oil cooler/exit lets air out of the car, and the passage ends in "bay""#,
            ),
            edit(
                r#"  { kind = "diffuser", length = "220 mm" },"#,
                r#"  { kind = "demand" },"#,
                "element-out-of-order",
                r#"{ kind = "demand" }"#,
                r#"is the engine's draught, and the passage ends in "bay""#,
            ),
            edit(
                r#"[{ kind = "loss", area = "16 cm2", k = 0.6 }, { kind = "demand", share = 1 }]"#,
                r#"[{ kind = "demand", share = 1 }, { kind = "loss", area = "16 cm2", k = 0.6 }]"#,
                "element-out-of-order",
                r#"{ kind = "demand", share = 1 }"#,
                "passage/carburettor/demand stands before another element",
            ),
            edit(
                r#"element = [{ kind = "leak", share_of_inlets = "5 %" }]"#,
                "element = []",
                "passage-empty",
                "[]",
                "passage/seams has no element",
            ),
            edit(
                "to = \"outside\"\nelement = [{ kind = \"leak\"",
                "to = \"bay\"\nelement = [{ kind = \"leak\"",
                "passage-to-itself",
                r#""bay""#,
                r#"passage/seams leads from "bay" to "bay""#,
            ),
            edit(
                "share = 1 }",
                r#"share = 1, flow = "0.03 kg/s" }"#,
                "said-twice",
                r#""0.03 kg/s""#,
                "share and flow",
            ),
            edit(
                "",
                r#"[[passage]]
name = "second carburettor"
from = "bay"
to = "engine"
element = [{ kind = "demand", share = "30 %" }]"#,
                "demand-shares-over-one",
                r#""30 %""#,
                "130 %",
            ),
            // two carburettors, each drawing 60 %, beside the one that draws all
            edit(
                "",
                r#"[[passage]]
name = "two more"
from = "bay"
to = "engine"
count = 2
element = [{ kind = "demand", share = "60 %" }]"#,
                "demand-shares-over-one",
                r#""60 %""#,
                "each as often as its count says, draw 220 %",
            ),
        ],
    );
}

#[test]
fn warm_air_drawn_in_again() {
    hold(
        "warm_air_drawn_in_again",
        &[
            edit(
                r#"recirculation = { from = "left exit", share = "6 %" }"#,
                r#"recirculation = { from = "seams", share = "6 %" }"#,
                "recirculation-without-exit",
                r#""seams""#,
                "does not end in an exit",
            ),
            edit(
                r#"recirculation = { from = "left exit", share = "6 %" }"#,
                r#"recirculation = { from = "scoop", share = "6 %" }"#,
                "recirculation-without-exit",
                r#""scoop""#,
                "passage/scoop/ram-inlet",
            ),
            edit(
                r#"{ from = "left exit", share = "6 %" }"#,
                r#"[{ from = "left exit", share = "60 %" }, { from = "right exit", share = "45 %" }]"#,
                "recirculation-over-share",
                r#"[{ from = "left exit", share = "60 %" }, { from = "right exit", share = "45 %" }]"#,
                "105 % of the air of passage/scoop/ram-inlet is drawn in again; 90 %",
            ),
        ],
    );
}

#[test]
fn chambers() {
    hold(
        "chambers",
        &[
            edit(
                "[chamber.bay]",
                "[chamber.tunnel]\n\n[chamber.bay]",
                "chamber-unjoined",
                "[chamber.tunnel]",
                r#"no passage begins or ends in the chamber "tunnel""#,
            ),
            edit(
                "",
                r#"[[passage]]
name = "to the box"
from = "airbox"
to = "engine"
element = [{ kind = "demand", share = 0 }]"#,
                "chamber-closed",
                r#""airbox""#,
                r#"no passage joins the chamber "airbox" with outside"#,
            ),
            edit(
                "",
                r#"[[passage]]
name = "between"
from = "left pocket"
to = "right pocket"
element = [{ kind = "loss", area = "30 cm2", k = 1 }]"#,
                "chamber-closed",
                r#""left pocket""#,
                r#"no passage joins the chambers "left pocket" and "right pocket" with outside"#,
            ),
        ],
    );
}

#[test]
fn engine_and_drive() {
    const CURVE: &str = r#"power = [["1800 rpm", "9 kW"], ["3400 rpm", "21 kW"], ["5000 rpm", "31 kW"], ["5900 rpm", "33 kW"]]"#;
    hold(
        "engine_and_drive",
        &[
            edit(CURVE, "", "power-missing", "[engine]", "neither power nor peak_power"),
            edit(
                CURVE,
                r#"peak_power = "33 kW""#,
                "peak-power-incomplete",
                r#""33 kW""#,
                "peak_power stands without peak_power_at",
            ),
            edit(
                CURVE,
                r#"peak_power_at = "5900 rpm""#,
                "peak-power-incomplete",
                r#""5900 rpm""#,
                "peak_power_at stands without peak_power",
            ),
            edit(
                "brake_efficiency =",
                "peak_power_at = \"5900 rpm\"\nbrake_efficiency =",
                "said-twice",
                r#""5900 rpm""#,
                "power and peak_power_at",
            ),
            edit(
                "brake_efficiency =",
                "peak_power = \"33 kW\"\npeak_power_at = \"5900 rpm\"\nbrake_efficiency =",
                "said-twice",
                r#""33 kW""#,
                "power and peak_power",
            ),
            edit(
                CURVE,
                r#"power = [["5900 rpm", "33 kW"]]"#,
                "power-points",
                r#"[["5900 rpm", "33 kW"]]"#,
                "the power curve has one point",
            ),
            edit(CURVE, "power = []", "power-points", "[]", "the power curve has no point"),
            edit(
                CURVE,
                r#"power = [["1800 rpm", "0 kW"], ["5900 rpm", "0 kW"]]"#,
                "power-nowhere",
                r#"[["1800 rpm", "0 kW"], ["5900 rpm", "0 kW"]]"#,
                "no power",
            ),
            edit("displacement =", "strokes = 3\ndisplacement =", "strokes-unknown", "3", "3 strokes"),
            edit(
                r#"bay = "2 %""#,
                r#"bay = "60 %""#,
                "heat-shares-over-one",
                "[engine.heat]",
                "heat takes 82 % of the fuel's heat and brake power 24 %, together 106 %",
            ),
            // 250 g/kWh at 43 MJ/kg: 3.6e9/(250 × 43e6) = 33.49 %
            edit(
                "brake_efficiency = \"24 %\"\nvolumetric_efficiency = \"80 %\"\n\n[engine.heat]\nheads = \"11 %\"",
                "fuel_consumption = \"250 g/kWh\"\n\n[engine.heat]\nheads = \"55 %\"",
                "heat-shares-over-one",
                "[engine.heat]",
                "heat takes 68 % of the fuel's heat and brake power 33.49 %, together 101.49 %",
            ),
            // 330 % of a brake power that is 24 % of the fuel's heat: 79.2 %
            edit(
                "[engine.heat]\nheads = \"11 %\"\nbarrels = \"6 %\"\noil = \"5 %\"\nbay = \"2 %\"",
                "heat_shares_of = \"brake power\"\n[engine.heat]\nheads = 3\noil = \"30 %\"",
                "heat-shares-over-one",
                "[engine.heat]",
                "heat takes 79.2 % of the fuel's heat and brake power 24 %, together 103.2 %",
            ),
            edit(
                "[engine.heat]\nheads = \"11 %\"\nbarrels = \"6 %\"\noil = \"5 %\"\nbay = \"2 %\"",
                "[engine.heat]",
                "table-empty",
                "[engine.heat]",
                "engine/heat holds nothing",
            ),
            edit(
                r#"highest = "6200 rpm""#,
                r#"highest = "1200 rpm""#,
                "drive-range-upside-down",
                r#""1200 rpm""#,
                "lowest is 1700 rpm, and highest 1200 rpm",
            ),
        ],
    );
}

#[test]
fn parts() {
    hold(
        "parts",
        &[
            edit(
                r#"measured_at = "plug washer""#,
                r#"source_temperature = "190 degC""#,
                "source-below-limit",
                r#""190 degC""#,
                "part/heads is heated by a source of 190 degC and may reach 196 degC",
            ),
            // the default of 600 degC is overtaken: the limit is what the builder wrote
            edit(
                r#"limit = "208 degC""#,
                r#"limit = "640 degC""#,
                "source-below-limit",
                r#""640 degC""#,
                "part/heads is heated by a source of 600 degC and may reach 628 degC",
            ),
            edit(
                r#"measured_at = "plug washer""#,
                r#"share_at = "650 degC""#,
                "source-below-share-at",
                r#""650 degC""#,
                "takes its share of heat at 650 degC",
            ),
            edit(
                r#"least = "80 degC""#,
                r#"least = "118 degC""#,
                "least-above-limit",
                r#""118 degC""#,
                "part/oil should be at least 118 degC and at most 118 degC",
            ),
            edit(
                r#"measured_at = "plug washer""#,
                r#"least = "200 degC""#,
                "least-above-limit",
                r#""200 degC""#,
                "at most 196 degC",
            ),
            edit("mass = \"9 kg\"\n", "", "mass-and-material", r#""cast iron""#, "material without its mass"),
            edit(
                "material = \"cast iron\"\n",
                "",
                "mass-and-material",
                r#""9 kg""#,
                "mass without its material",
            ),
            edit(
                r#"mass = "9 kg""#,
                "mass = \"9 kg\"\nheat_capacity = \"5 kJ/K\"",
                "said-twice",
                r#""5 kJ/K""#,
                "mass and heat_capacity",
            ),
            edit(
                "limit = \"208 degC\"\nhottest_above_mean = \"12 K\"\nmeasured_at",
                "share_at = \"300 degC\"\nhottest_above_mean = \"12 K\"\nmeasured_at",
                "limit-missing",
                r#""12 K""#,
                "part/heads has hottest_above_mean and measured_at and no limit",
            ),
            edit(
                r#"mass = "9 kg""#,
                "mass = \"9 kg\"\nemissivity = 0.9",
                "surface-missing",
                "0.9",
                "part/barrels has emissivity and no surface",
            ),
        ],
    );
}
