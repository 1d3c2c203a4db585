mod cars;
mod dice;
mod elements;
pub use cars::car;
