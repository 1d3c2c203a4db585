//! n alike side by side: n times the flow at the same pressures and temperatures; and what single keys do, by hand.

use crate::elements::{Form, car, forms, moment, stream};
use slowcorner::case::load;
use slowcorner::element::{Law, Role};
use slowcorner::point::Model;

/// The law of a form's example in a passage of so many.
fn of(form: Form, count: usize) -> Law {
    let text = car(form).replace("name = \"under test\"", &format!("name = \"under test\"\ncount = {count}"));
    let loaded = load(&text, &[]).unwrap_or_else(|faults| panic!("{}: {faults}", form.name));
    let model = Model::new(&loaded.case).unwrap_or_else(|faults| panic!("{}: {faults}", form.name));
    let index = usize::from(matches!(form.kind.role, Role::Middle | Role::Demand));
    let mut law = model.network.laws[index].clone();
    law.prepare(&moment(25.0), 0.0);
    law
}

#[test]
fn so_many_alike_take_so_many_times_the_flow() {
    let mut tried = 0;
    // a tee's legs meet in one joint, and an engine draws all its air: there are no three of them
    for form in forms().filter(|form| !["tee", "demand"].contains(&form.name)) {
        let (one, three) = (of(form, 1), of(form, 3));
        for flow in [-0.05, 0.02, 0.11] {
            let (single, all) =
                (one.respond(&stream(flow), 310.0, 400.0), three.respond(&stream(3.0 * flow), 310.0, 400.0));
            let near = |what: &str, a: f64, b: f64| {
                assert!((a - b).abs() <= 1e-6 * (1.0 + a.abs()), "{} {what} at {flow}: {a} {b}", form.name);
            };
            near("push", single.push, all.push);
            near("drop", single.drop, all.drop);
            near("outlet", single.outlet, all.outlet);
            near("slope", single.rise_by_flow, 3.0 * all.rise_by_flow);
            near("air power", 3.0 * single.air_power, all.air_power);
            tried += 1;
        }
        let near = |a: f64, b: f64| (a - b).abs() < 1e-12;
        assert!(one.area().zip(three.area()).is_none_or(|(a, b)| near(a, b)), "{}", form.name);
        assert!(
            one.pieces() == 1.0
                || (three.pieces() / one.pieces() - 3.0).abs() < 1e-12
                || three.pieces() == 1.0
        );
        if let (Some(single), Some(all)) = (one.lump(), three.lump()) {
            assert!(
                (single.forward - 9.0 * all.forward).abs() <= 1e-9 * single.forward.abs(),
                "{}",
                form.name
            );
        }
    }
    assert!(tried > 45, "{tried}");
}

/// A screen of 60 % of which a quarter is blocked: 0.52 (1 − 0.45²)/0.45² = 2.0479 heads.
#[test]
fn dirt_closes_a_screen() {
    let form = forms().find(|form| form.name == "screen").expect("screens are known");
    let example = r#"{ kind = "screen", area = "60 cm2", open_fraction = 0.6, blocked = "25 %" }"#;
    let law = of(Form { example, ..form }, 1);
    let flow = 0.05;
    let volume = stream(flow).volume_per_kelvin * 300.0;
    let head = 0.5 * volume * (flow / 60e-4_f64).powi(2);
    let heads = law.respond(&stream(flow), 300.0, 0.0).drop / head;
    assert!((heads - 0.52 * (1.0 - 0.2025) / 0.2025).abs() < 1e-9, "{heads}");
}
