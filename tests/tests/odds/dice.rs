//! Random numbers by other means than the program's: one state that moves on, and other methods for
//! every law.

use std::f64::consts::TAU;

/// SplitMix64 (Steele, Lea and Flood 2014, "Fast splittable pseudorandom number generators").
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    /// Evenly over the open interval 0 to 1.
    pub(crate) fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^= z >> 31;
        ((z >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
    }

    /// Standard normal (Box and Muller 1958).
    pub(crate) fn normal(&mut self) -> f64 {
        let radius = (-2.0 * self.uniform().ln()).sqrt();
        radius * (TAU * self.uniform()).cos()
    }

    /// Lognormal of mean 1.
    pub(crate) fn factor(&mut self, sd_ln: f64) -> f64 {
        (sd_ln * self.normal() - sd_ln * sd_ln / 2.0).exp()
    }

    /// Gamma of mean 1 and variance 1 / shape, for a shape of 1 or more (Marsaglia and Tsang 2000).
    pub(crate) fn gamma(&mut self, shape: f64) -> f64 {
        let d = shape - 1.0 / 3.0;
        loop {
            let x = self.normal();
            let v = (1.0 + x / (9.0 * d).sqrt()).powi(3);
            if v > 0.0 && self.uniform().ln() < 0.5 * x * x + d - d * v + d * v.ln() {
                return d * v / shape;
            }
        }
    }

    /// Poisson, by the time between events: for small means.
    pub(crate) fn poisson(&mut self, mean: f64) -> f64 {
        let (mut time, mut count) = (-self.uniform().ln(), 0.0);
        while time < mean {
            time -= self.uniform().ln();
            count += 1.0;
        }
        count
    }
}
