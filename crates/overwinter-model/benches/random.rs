//! What random numbers of eight paths cost.

use std::hint::black_box;

use divan::Bencher;
use overwinter_model::random::{
    Anomalies, AnomalyLaw, Draw, GammaQuantile, Key, bits, exp, ln, normal, poisson, uniform,
};

const LANES: usize = 8;

fn main() {
    divan::main();
}

fn words(day: u32) -> [[u32; LANES]; 4] {
    let draw = Draw {
        day,
        purpose: 0,
        stream: 0,
    };
    bits(Key(1), core::array::from_fn(|lane| lane as u32), draw)
}

/// Uniform numbers of many days, so that no branch predictor learns them by heart.
fn uniforms() -> Vec<[f64; LANES]> {
    (0..10_000)
        .flat_map(|day| words(day).map(uniform))
        .collect()
}

/// Each call of `f` gets the next numbers.
fn with_uniforms(bencher: Bencher, f: impl Fn([f64; LANES]) -> [f64; LANES] + Sync) {
    let numbers = uniforms();
    let mut next = numbers.iter().cycle();
    bencher.bench_local(|| f(black_box(*next.next().expect("there are some"))));
}

/// Four words of all lanes.
#[divan::bench]
fn philox_block(bencher: Bencher) {
    bencher.bench(|| words(black_box(3)));
}

#[divan::bench]
fn exponential(bencher: Bencher) {
    with_uniforms(bencher, exp);
}

#[divan::bench]
fn logarithm(bencher: Bencher) {
    with_uniforms(bencher, ln);
}

#[divan::bench(name = "normal")]
fn normal_numbers(bencher: Bencher) {
    with_uniforms(bencher, normal);
}

#[divan::bench(args = [0.5, 4.0, 20.0], name = "poisson")]
fn poisson_counts(bencher: Bencher, mean: f64) {
    with_uniforms(bencher, |u| poisson([mean; LANES], u));
}

/// From a normal number.
#[divan::bench]
fn gamma_factor(bencher: Bencher) {
    let quantile = GammaQuantile::new(0.7).expect("the shape is in range");
    with_uniforms(bencher, |u| quantile.at(u));
}

#[divan::bench]
fn gamma_prepared() -> GammaQuantile {
    GammaQuantile::new(black_box(0.7)).expect("the shape is in range")
}

/// Both anomalies of a day, from bits to state.
#[divan::bench]
fn anomalies_of_a_day(bencher: Bencher) {
    let law = AnomalyLaw::new([0.7, 0.3], -0.4).expect("the law is valid");
    let mut state = Anomalies {
        t: [0.0; LANES],
        c: [0.0; LANES],
    };
    let mut day = 0;
    bencher.bench_local(|| {
        let [t, c, ..] = words(day);
        state = state.next(&law, [normal(uniform(t)), normal(uniform(c))]);
        day += 1;
        state
    });
}
