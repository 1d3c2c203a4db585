//! Doubt: what is drawn, from which band, together with what, and what the answer is worth then.

mod answers;
mod bands;
mod cars;
mod elsewhere;
mod guesses;
mod readings;
mod testcard;
