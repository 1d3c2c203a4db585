//! Where a file can be spoilt, and how.

use proc_macro2::Span;
use std::ops::Range;
use syn::spanned::Spanned;
use syn::visit::{self, Visit};
use syn::{BinOp, Expr, Item, Lit, UnOp};

/// A place that can be spoilt.
pub struct Site {
    /// Where it stands in the file (bytes).
    pub range: Range<usize>,
    /// What stands there with the fault in it; for [`Site::number`] its own text.
    pub spoilt: String,
    /// Whether it is a number, which grows by a twentieth.
    pub number: bool,
    /// The fault in words.
    pub words: String,
}

/// Walks a file.
pub struct Walk<'a> {
    text: &'a str,
    /// Names of constants that are numbers.
    constants: &'a [String],
    /// What was found.
    pub sites: Vec<Site>,
}

impl<'a> Walk<'a> {
    /// Everything in a file but its tests and constants.
    pub fn through(text: &'a str, constants: &'a [String]) -> Vec<Site> {
        let mut walk = Walk { text, constants, sites: Vec::new() };
        if let Ok(file) = syn::parse_file(text) {
            walk.visit_file(&file);
        }
        walk.sites
    }

    fn part(&self, span: Span) -> &'a str {
        &self.text[span.byte_range()]
    }

    fn add(&mut self, span: Span, spoilt: String, words: String) {
        self.sites.push(Site { range: span.byte_range(), spoilt, number: false, words });
    }

    fn add_number(&mut self, span: Span) {
        let text = self.part(span).to_string();
        let words = format!("{text} × 1.05");
        self.sites.push(Site { range: span.byte_range(), spoilt: text, number: true, words });
    }
}

fn holds_let(expr: &Expr) -> bool {
    match expr {
        Expr::Let(_) => true,
        Expr::Binary(both) => holds_let(&both.left) || holds_let(&both.right),
        _ => false,
    }
}

fn other(op: &BinOp) -> Option<&'static str> {
    Some(match op {
        BinOp::Add(_) => "-",
        BinOp::Sub(_) => "+",
        BinOp::Mul(_) => "/",
        BinOp::Div(_) => "*",
        BinOp::Lt(_) => ">=",
        BinOp::Le(_) => ">",
        BinOp::Gt(_) => "<=",
        BinOp::Ge(_) => "<",
        BinOp::Eq(_) => "!=",
        BinOp::Ne(_) => "==",
        BinOp::And(_) => "||",
        BinOp::Or(_) => "&&",
        BinOp::AddAssign(_) => "-=",
        BinOp::SubAssign(_) => "+=",
        BinOp::MulAssign(_) => "/=",
        BinOp::DivAssign(_) => "*=",
        _ => return None,
    })
}

/// The method that stands in for another; empty: the call goes.
fn other_method(name: &str) -> Option<&'static str> {
    Some(match name {
        "min" => "max",
        "max" => "min",
        "sin" => "cos",
        "cos" => "sin",
        "abs" | "sqrt" | "ln" | "exp" | "cbrt" => "",
        _ => return None,
    })
}

impl<'ast> Visit<'ast> for Walk<'_> {
    fn visit_item(&mut self, item: &'ast Item) {
        let (Item::Const(_) | Item::Static(_) | Item::Macro(_)) = item else {
            if let Item::Mod(inner) = item
                && inner.ident == "tests"
            {
                return;
            }
            return visit::visit_item(self, item);
        };
    }

    fn visit_item_fn(&mut self, item: &'ast syn::ItemFn) {
        if item.sig.constness.is_none() {
            visit::visit_item_fn(self, item);
        }
    }

    fn visit_impl_item_fn(&mut self, item: &'ast syn::ImplItemFn) {
        if item.sig.constness.is_none() {
            visit::visit_impl_item_fn(self, item);
        }
    }

    fn visit_impl_item_const(&mut self, _: &'ast syn::ImplItemConst) {}
    fn visit_attribute(&mut self, _: &'ast syn::Attribute) {}
    fn visit_pat(&mut self, _: &'ast syn::Pat) {}
    fn visit_type(&mut self, _: &'ast syn::Type) {}

    fn visit_expr(&mut self, expr: &'ast Expr) {
        match expr {
            Expr::Binary(both) if !holds_let(expr) => {
                // numbers with slopes have no division by one another
                let slopes = self.text.contains("Dual") && matches!(both.op, BinOp::Mul(_));
                let (left, right) = (self.part(both.left.span()), self.part(both.right.span()));
                if slopes {
                    self.add(expr.span(), format!("1.05 * ({left} * {right})"), "product × 1.05".into());
                } else if let Some(op) = other(&both.op) {
                    let words = format!("{} → {op}", self.part(both.op.span()));
                    self.add(expr.span(), format!("{left} {op} {right}"), words);
                }
            }
            Expr::Unary(one) if matches!(one.op, UnOp::Neg(_) | UnOp::Not(_)) => {
                let words = format!("{} left out", self.part(one.op.span()));
                self.add(expr.span(), self.part(one.expr.span()).to_string(), words);
            }
            Expr::Lit(literal) => {
                if let Lit::Float(float) = &literal.lit
                    && float.base10_parse::<f64>().is_ok_and(|value| value != 0.0)
                {
                    self.add_number(expr.span());
                }
            }
            Expr::Reference(reference) if matches!(*reference.expr, Expr::Path(_) | Expr::Lit(_)) => return,
            Expr::Path(path) if path.qself.is_none() => {
                if let Some(last) = path.path.segments.last()
                    && self.constants.contains(&last.ident.to_string())
                {
                    self.add_number(expr.span());
                }
            }
            Expr::MethodCall(call) => {
                let name = call.method.to_string();
                let (receiver, arguments) = (self.part(call.receiver.span()), self.part(call.args.span()));
                if let Some(other) = other_method(&name) {
                    let words = if other.is_empty() {
                        format!(".{name}() left out")
                    } else {
                        format!(".{name} → .{other}")
                    };
                    let spoilt = if other.is_empty() {
                        receiver.to_string()
                    } else {
                        format!("{receiver}.{other}({arguments})")
                    };
                    self.add(expr.span(), spoilt, words);
                } else if name == "powi" {
                    let spoilt = format!("{receiver}.powi({arguments} + 1)");
                    self.add(expr.span(), spoilt, format!("powi({arguments}) one higher"));
                }
            }
            Expr::If(branch)
                if !holds_let(&branch.cond) && !matches!(*branch.cond, Expr::Binary(_) | Expr::Unary(_)) =>
            {
                let condition = self.part(branch.cond.span());
                self.add(branch.cond.span(), format!("!({condition})"), "condition turned round".into());
            }
            _ => {}
        }
        visit::visit_expr(self, expr);
    }
}

/// Names of the constants of a file: those that are numbers, and all others.
pub fn constants(text: &str) -> (Vec<String>, Vec<String>) {
    struct Names(Vec<String>, Vec<String>);
    impl Names {
        fn add(&mut self, name: &syn::Ident, kind: &syn::Type) {
            let number = matches!(kind, syn::Type::Path(path) if path.path.is_ident("f64"));
            if number { self.0.push(name.to_string()) } else { self.1.push(name.to_string()) }
        }
    }
    impl<'ast> Visit<'ast> for Names {
        fn visit_item_const(&mut self, item: &'ast syn::ItemConst) {
            self.add(&item.ident, &item.ty);
        }
        fn visit_impl_item_const(&mut self, item: &'ast syn::ImplItemConst) {
            self.add(&item.ident, &item.ty);
        }
    }
    let mut names = Names(Vec::new(), Vec::new());
    if let Ok(file) = syn::parse_file(text) {
        names.visit_file(&file);
    }
    (names.0, names.1)
}
