// SHA-256 (FIPS 180-4), and explanations that open with the answer they belong to. The browser's
// own hash is not there in a page that was opened from a file on some devices.

/** The first 32 bits of the fractional parts of the cube roots of the first 64 primes (4.2.2). */
const ROUNDS = fractions(64, Math.cbrt);
/** The same of the square roots of the first 8 primes (5.3.3). */
const START = fractions(8, Math.sqrt);

/**
 * The first 32 bits of the fractional parts of roots of the first primes. A double has 52 bits,
 * which is enough: the roots are below 32, and the test vectors hold the result.
 * @param {number} count
 * @param {(prime: number) => number} root
 * @returns {number[]}
 */
function fractions(count, root) {
  const found = [];
  for (let number = 2; found.length < count; number += 1) {
    let prime = true;
    for (let by = 2; by * by <= number; by += 1) if (number % by === 0) prime = false;
    if (prime) found.push(((root(number) % 1) * 2 ** 32) >>> 0);
  }
  return found;
}

/**
 * @param {number} word
 * @param {number} by
 * @returns {number}
 */
function turned(word, by) {
  return (word >>> by) | (word << (32 - by));
}

/**
 * The SHA-256 hash of some bytes, 32 bytes.
 * @param {Uint8Array} bytes
 * @returns {Uint8Array}
 */
export function sha256(bytes) {
  const padded = new Uint8Array(Math.ceil((bytes.length + 9) / 64) * 64);
  padded.set(bytes);
  padded[bytes.length] = 0x80;
  const view = new DataView(padded.buffer);
  view.setUint32(padded.length - 8, Math.floor(bytes.length / 2 ** 29));
  view.setUint32(padded.length - 4, (bytes.length * 8) >>> 0);
  const state = Uint32Array.from(START);
  for (let at = 0; at < padded.length; at += 64) takeIn(state, view, at);
  const hash = new DataView(new ArrayBuffer(32));
  state.forEach((word, index) => hash.setUint32(index * 4, word));
  return new Uint8Array(hash.buffer);
}

/**
 * One block (6.2.2).
 * @param {Uint32Array} state
 * @param {DataView} view
 * @param {number} at
 */
function takeIn(state, view, at) {
  const words = new Uint32Array(64);
  /** @param {number} index */
  const word = (index) => words[index] ?? 0;
  for (let t = 0; t < 16; t += 1) words[t] = view.getUint32(at + t * 4);
  for (let t = 16; t < 64; t += 1) {
    const a = word(t - 15);
    const b = word(t - 2);
    const small = turned(a, 7) ^ turned(a, 18) ^ (a >>> 3);
    const large = turned(b, 17) ^ turned(b, 19) ^ (b >>> 10);
    words[t] = word(t - 16) + small + word(t - 7) + large;
  }
  let [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0] = state;
  for (let t = 0; t < 64; t += 1) {
    const one = turned(e, 6) ^ turned(e, 11) ^ turned(e, 25);
    const chosen = (e & f) ^ (~e & g);
    const first = (h + one + chosen + (ROUNDS[t] ?? 0) + word(t)) | 0;
    const other = turned(a, 2) ^ turned(a, 13) ^ turned(a, 22);
    const second = (other + ((a & b) ^ (a & c) ^ (b & c))) | 0;
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + first) | 0, c, b, a, (first + second) | 0];
  }
  [a, b, c, d, e, f, g, h].forEach((value, index) => {
    state[index] = (state[index] ?? 0) + value;
  });
}

/**
 * @param {string} text
 * @returns {Uint8Array}
 */
export function utf8(text) {
  return new TextEncoder().encode(text);
}

/**
 * The explanation that was sealed (base64) with an answer; with another one nothing readable.
 * @param {string} sealed
 * @param {string} salt
 * @param {number} place
 * @param {string} answer
 * @returns {string}
 */
export function unseal(sealed, salt, place, answer) {
  const key = sha256(utf8(`${salt}:${place}:${answer}`));
  const bytes = Uint8Array.from(atob(sealed), (letter) => letter.charCodeAt(0));
  for (let block = 0; block * 32 < bytes.length; block += 1) {
    const counted = new Uint8Array(36);
    counted.set(key);
    new DataView(counted.buffer).setUint32(32, block);
    sha256(counted).forEach((byte, index) => {
      const at = block * 32 + index;
      if (at < bytes.length) bytes[at] = (bytes[at] ?? 0) ^ byte;
    });
  }
  return new TextDecoder().decode(bytes).replace(/ +$/, "");
}
