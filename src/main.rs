fn main() {
    let args: Vec<String> = std::env::args().collect();
    let text = std::fs::read_to_string(&args[2]).unwrap();
    let loaded = match slowcorner::case::load(&text, &[]) {
        Ok(l) => l,
        Err(f) => {
            eprintln!("{}", slowcorner::case::render::render(f.list(), &args[2], &text));
            std::process::exit(2)
        }
    };
    let model = match slowcorner::study::Model::new(&loaded.case) {
        Ok(l) => l,
        Err(f) => {
            eprintln!("{}", slowcorner::case::render::render(f.list(), &args[2], &text));
            std::process::exit(2)
        }
    };
    let c = match slowcorner::study::check::check(&loaded.case, &model) {
        Ok(c) => c,
        Err(e) => {
            eprintln!("{e}");
            std::process::exit(3)
        }
    };
    println!("{}", serde_json::json!({"conditions": c}));
}
