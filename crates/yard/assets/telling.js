// Which part is this, out of reach of the yard computer. The figures are those of the program's own model, written down
// for this order (crates/tell, tables.rs); here is what is done with them: the same sums, by the same rules. What to read
// next is in asking.js.
import { amount, either, inWords } from "./saying.js";

const SQRT_2 = Math.SQRT2;

/** erfc for x >= 0: the series of Abramowitz and Stegun 7.1.6 near nought, their continued fraction 7.1.14 beyond. */
function erfc(x) {
  const bell = Math.exp(-x * x) / Math.sqrt(Math.PI);
  if (x > 3) {
    let below = x;
    for (let k = 30; k > 0; k -= 1) below = x + k / 2 / below;
    return bell / below;
  }
  let term = x;
  let sum = x;
  for (let n = 1; term > 1e-17 * sum; n += 1) {
    term *= (2 * x * x) / (2 * n + 1);
    sum += term;
  }
  return 1 - 2 * bell * sum;
}

/** The chance that a normal variable lies between two values. */
function between(mean, sd, from, to) {
  let [a, b] = [(from - mean) / sd, (to - mean) / sd];
  // Far above the mean both are nearly 1: their difference is taken on the other side, where both are nearly 0.
  if (a > 0) [a, b] = [-b, -a];
  const below = (z) => (z < 0 ? 0.5 * erfc(-z / SQRT_2) : 1 - 0.5 * erfc(z / SQRT_2));
  return Math.max(0, below(b) - below(a));
}

export const sum = (numbers) => numbers.reduce((all, one) => all + one, 0);

/** Tells parts apart by the tables of a kit. */
export class Kit {
  constructor(tables) {
    Object.assign(this, tables);
    // Anything at all stands last: no size that is known, and the first row of every question by eye.
    const any = [[], "", this.anything, null, this.sizes.map(() => 0), this.eye.map(() => 0)];
    this.all = [...this.parts, any].map(([marks, noun, prior, of, sizes, rows]) => ({ marks, noun, prior, of, sizes, rows }));
    this.ends = this.eye.findIndex((eye) => eye.read === "end");
  }

  // What was read

  wayOf(reading) {
    if (reading.read === "mass") return this.ways.find((way) => way.of === null);
    return reading.read === "size" ? this.ways.find((way) => way.of === reading.of && way.with.tool === reading.with?.tool) : undefined;
  }

  /** Which answer to a question by eye a reading is; -1 if it is none. */
  answerOf(eye, reading) {
    if (eye.read === "holes") return Math.min(eye.answers + 1, Math.max(0, reading.count));
    if (eye.read !== "looks") return eye.answers.indexOf(reading.is);
    const at = eye.answers.findIndex((word) => word.toLowerCase() === reading.like.trim().toLowerCase());
    return at < 0 ? eye.answers.length : at;
  }

  shown(reading) {
    const way = this.wayOf(reading);
    if (!way) return null;
    const read = (reading.read === "mass" ? reading.micrograms : reading.nanometres) / 1e9;
    return { way, count: Math.min(way.last + 1, Math.max(0, Math.round(read / way.step))) };
  }

  evidence(readings) {
    const seen = { eye: this.eye.map(() => -1), ends: [-1, -1], sizes: this.sizes.map(() => []) };
    for (const reading of readings) {
      const at = this.eye.findIndex((eye) => eye.read === reading.read);
      const shown = this.shown(reading);
      const answer = at < 0 ? -1 : this.answerOf(this.eye[at], reading);
      if (answer >= 0 && at === this.ends) seen.ends[reading.end === "other" ? 1 : 0] = answer;
      else if (answer >= 0) seen.eye[at] = answer;
      else if (shown) seen.sizes[shown.way.quantity].push(shown);
    }
    seen.sizes = seen.sizes.map((all) => all.slice(-this.limits.most_readings));
    return seen;
  }

  // The chance of what was read

  eyeChance(h, at, answer) {
    if (at === this.ends) return this.endsChance(h, [answer, -1]);
    return this.eye[at].rows[h.rows[at]][answer];
  }

  /** Which end came first is not known, so each is as likely as the other. */
  endsChance(h, [one, other]) {
    const row = this.eye[this.ends].rows[h.rows[this.ends]];
    const half = row.length / 2;
    const of = (end, said) => (said < 0 ? 1 : row[end * half + said]);
    return 0.5 * (of(0, one) * of(1, other) + of(1, one) * of(0, other));
  }

  ofAny(way, from, to) {
    const { off_the_tool: off } = this.limits;
    const upTo = (count) => {
      if (count < 0) return 0;
      if (count === 0) return off;
      return count > way.last ? 1 : off + ((1 - 2 * off) * Math.log(2 * count + 1)) / Math.log(2 * way.last + 1);
    };
    return upTo(to) - upTo(from - 1);
  }

  about(way, mean, sd, from, to) {
    const low = from <= 0 ? -Infinity : (from - 0.5) * way.step;
    const high = to > way.last ? Infinity : (to + 0.5) * way.step;
    return low - mean > 9 * sd || mean - high > 9 * sd ? 0 : between(mean, sd, low, high);
  }

  slips(way, mean) {
    return mean >= way.slips_from ? way.slips : [];
  }

  right(way, mean, sd, from, to) {
    const slips = sum(this.slips(way, mean).map(([, rate]) => rate));
    return (1 - this.limits.any_size - slips) * this.about(way, mean, sd, from, to);
  }

  meant(way, mean, sd, from, to) {
    const slipped = this.slips(way, mean).map(([by, rate]) => rate * this.about(way, mean + by, sd, from, to));
    return this.right(way, mean, sd, from, to) + sum(slipped);
  }

  chance(way, mean, sd, count) {
    return this.meant(way, mean, sd, count, count) + this.limits.any_size * this.ofAny(way, count, count);
  }

  /** What a way shows of a size, by its number: mean and spread; nothing where there is no such size. */
  spread(way, number) {
    const size = this.sizes[way.quantity][number];
    if (!size) return null;
    const times = way.by === "around" ? size[2] : 1;
    return { mean: size[0] * times, sd: Math.hypot(size[1] * times, way.errors[number]) };
  }

  /** The chance of all that was read of one quantity, if it is this size. */
  together(shown, number) {
    const size = this.sizes[shown[0].way.quantity][number];
    if (!size) return this.ofUnknown(shown);
    if (shown.length === 1) {
      const { mean, sd } = this.spread(shown[0].way, number);
      return this.chance(shown[0].way, mean, sd, shown[0].count);
    }
    return this.ofKnown(shown, size, number);
  }

  /** A piece's own deviation is shared by all readings of it: the integral over how the piece may be. */
  ofKnown(shown, [mean, sd, around], number) {
    const times = (way) => (way.by === "around" ? around : 1);
    const narrowest = Math.min(sd, ...shown.map(({ way }) => way.errors[number] / times(way)));
    const wide = (0.8 * narrowest) / Math.sqrt(shown.length + 1);
    const steps = Math.min(20000, Math.ceil((14 * sd) / wide));
    const mistaken = shown.map(({ way, count }) => this.limits.any_size * this.ofAny(way, count, count));
    let chance = 0;
    let share = 0;
    for (let i = 0; i <= steps; i += 1) {
      const off = (14 * i) / steps - 7;
      const density = Math.exp(-0.5 * off * off);
      share += density;
      let all = density;
      shown.forEach(({ way, count }, each) => { all *= mistaken[each] + this.meant(way, (mean + off * sd) * times(way), way.errors[number], count, count); });
      chance += all;
    }
    return chance / share;
  }

  /** Of what has no such size the first is anything, and those after it scatter about it. */
  ofUnknown([first, ...after]) {
    const times = (way) => (way.by === "around" ? Math.PI : 1);
    const size = (first.count * first.way.step) / times(first.way);
    const sizes = this.sizes[first.way.quantity];
    const off = (number) => (sizes[number] ? Math.abs(sizes[number][0] - size) : Infinity);
    const nearest = sizes.reduce((best, _, number) => (off(number) < off(best) ? number : best), 0);
    const scatter = Math.hypot(first.way.errors[nearest], first.way.step * this.limits.unknown_again) / times(first.way);
    let chance = this.ofAny(first.way, first.count, first.count);
    for (const { way, count } of after) {
      chance *= this.chance(way, size * times(way), Math.hypot(scatter * times(way), way.errors[nearest]), count);
    }
    return chance;
  }

  chances(seen) {
    const logs = seen.sizes.map((shown, quantity) => (shown.length ? this.sizes[quantity].map((_, number) => Math.log(this.together(shown, number))) : null));
    const all = this.all.map((h) => {
      let log = Math.log(h.prior);
      seen.eye.forEach((answer, at) => { if (answer >= 0) log += Math.log(this.eyeChance(h, at, answer)); });
      if (Math.max(...seen.ends) >= 0) log += Math.log(this.endsChance(h, seen.ends));
      logs.forEach((of, quantity) => { if (of) log += of[h.sizes[quantity]]; });
      return log;
    });
    const most = Math.max(...all);
    const whole = sum(all.map((log) => Math.exp(log - most)));
    return all.map((log) => Math.exp(log - most) / whole);
  }

  // What it is

  answer(readings) {
    const chances = this.chances(this.evidence(readings));
    const of = (from, to) => this.all.slice(from, to).map((h, i) => ({ ...h, chance: chances[from + i] }));
    const candidates = of(0, this.ours).sort((a, b) => b.chance - a.chance);
    const none = Math.min(1, sum(chances.slice(this.ours)));
    const [nearest = null] = of(this.ours, this.parts.length).sort((a, b) => b.chance - a.chance);
    const { confidence } = this.limits;
    const [first] = candidates;
    const decided = none >= confidence ? "none" : first?.chance >= confidence ? first.marks : null;
    const odd = first?.chance > none ? this.odd(first, readings) : [];
    return { candidates, none, nearest, decided, odd, words: inWords(candidates, none, nearest && { ...nearest, of: this.of[nearest.of] }, decided, confidence) };
  }

  odd(h, readings) {
    const marks = either(h.marks);
    return readings.flatMap((reading, number) => {
      const shown = this.shown(reading);
      const at = this.eye.findIndex((eye) => eye.read === reading.read);
      if (shown) {
        const { way, count } = shown;
        const fits = this.spread(way, h.sizes[way.quantity]);
        if (!fits || this.right(way, fits.mean, fits.sd, count, count) >= 0.5 * this.chance(way, fits.mean, fits.sd, count)) return [];
        return { reading: number, words: `the ${way.words} does not fit ${marks}, which should read ${amount(way.by, fits.mean, this.inch)}: measure it again` };
      }
      const answer = at < 0 ? -1 : this.answerOf(this.eye[at], reading);
      if (answer < 0 || this.eyeChance(h, at, answer) >= this.limits.odd_look) return [];
      return { reading: number, words: `the ${this.eye[at].odd} does not fit ${marks}: look again` };
    });
  }
}
