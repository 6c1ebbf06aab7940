//! Seeded chance, so that a test tries the same positions every time.

/// Marsaglia's xorshift of 64 bits ("Xorshift RNGs", Journal of Statistical Software, 2003).
#[derive(Clone, Debug)]
pub struct Chance(u64);

impl Chance {
    /// A run of numbers fixed by `seed`.
    pub fn new(seed: u64) -> Chance {
        // Spread small seeds over all bits, and keep clear of zero, which never changes.
        Chance(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    /// A number from 0 to `below` - 1; `below` is at least 1.
    pub fn below(&mut self, below: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        ((self.0 >> 11) % below as u64) as usize
    }
}
