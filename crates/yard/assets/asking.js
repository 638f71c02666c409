// What to read next, out of reach of the yard computer: what each question is expected to tell, by exact enumeration over
// all its answers, of those that can still change the decision; as the program itself does it (crates/tell, next.rs and
// question.rs). Which of them leads to a decision soonest is in ahead.js.
import { Kit, sum } from "./telling.js";
import { amount, askFor } from "./saying.js";
import { soonest } from "./ahead.js";

export const pLnP = (p) => (p > 0 ? p * Math.log(p) : 0);

/** A kit that asks as well. */
export class AskingKit extends Kit {
  constructor(tables) {
    super(tables);
    const asked = this.ways.filter((way) => way.asked);
    this.questions = [...this.eye.map((eye, at) => this.byEye(eye, at)), ...asked.map((way) => this.bySize(way))];
  }

  byEye(eye, at) {
    const rows = new Map();
    const answers = at === this.ends ? eye.answers.length : eye.rows[0].length;
    const row = (h) => {
      const key = h.rows[at];
      if (!rows.has(key)) rows.set(key, rowOf(Array.from({ length: answers }, (_, answer) => this.eyeChance(h, at, answer))));
      return rows.get(key);
    };
    const open = (seen) => (at === this.ends ? Math.max(...seen.ends) < 0 : seen.eye[at] < 0 && (eye.read !== "kind" || seen.eye[at + 1] < 0));
    return { ...eye, answers, row, open, any: null, shows: (h) => eye.shows[h.rows[at]] };
  }

  /** After one end was looked at, the other is another question. */
  otherEnd(seen) {
    const [one, other] = seen.ends;
    if ((one < 0) === (other < 0)) return [];
    const [number, ask] = one >= 0 ? this.eye[this.ends].other : [this.eye[this.ends].number, this.eye[this.ends].ask];
    const first = this.questions[this.ends];
    const given = Math.max(one, other);
    const row = (h) => rowOf(Array.from({ length: first.answers }, (_, said) => this.endsChance(h, [given, said]) / this.endsChance(h, [given, -1])));
    return [{ ...first, number, ask, row, open: () => true }];
  }

  bySize(way) {
    const { number, ask, seconds } = way.asked;
    const starts = way.asked.starts.flatMap(([from, wide, count]) => Array.from({ length: count }, (_, i) => from + i * wide));
    const range = (i) => [starts[i], i + 1 < starts.length ? starts[i + 1] - 1 : way.last + 1];
    const any = starts.map((_, i) => this.ofAny(way, ...range(i)));
    const question = { number, ask, seconds, way, any, anyLn: any.map(pLnP), answers: starts.length };
    const rows = new Map();
    question.row = (h) => {
      const size = h.sizes[way.quantity];
      if (!rows.has(size)) rows.set(size, this.rowOfSize(question, starts, range, size));
      return rows.get(size);
    };
    // A size is not measured again, save across with a finer tool.
    question.open = (seen) => seen.sizes[way.quantity].every((shown) => way.quantity === 1 && way.fine > shown.way.fine);
    question.shows = (h) => {
      const fits = this.spread(way, h.sizes[way.quantity]);
      return fits && amount(way.by, fits.mean, this.inch);
    };
    return question;
  }

  rowOfSize(question, starts, range, size) {
    const { way } = question;
    const fits = this.spread(way, size);
    const near = new Map();
    if (fits) {
      const at = (size) => {
        const count = Math.min(way.last + 1, Math.max(0, Math.round(size / way.step)));
        let [low, high] = [0, starts.length];
        while (high - low > 1) { const middle = (low + high) >> 1; if (starts[middle] <= count) low = middle; else high = middle; }
        return low;
      };
      for (const by of [0, ...this.slips(way, fits.mean).map(([by]) => by)]) {
        const last = at(fits.mean + by + 6 * fits.sd);
        for (let i = at(fits.mean + by - 6 * fits.sd); i <= last; i += 1) {
          if (!near.has(i)) near.set(i, this.meant(way, fits.mean, fits.sd, ...range(i)));
        }
      }
    }
    const row = { weight: fits ? this.limits.any_size : 1, near: [...near] };
    const dense = new Float64Array(question.answers);
    row.near.forEach(([answer, chance]) => { dense[answer] = chance; });
    return { ...row, entropy: entropyOf(question, row.weight, dense) };
  }

  next(readings) {
    const seen = this.evidence(readings);
    const chances = this.chances(seen);
    const { confidence, least_bits, seldom } = this.limits;
    const none = sum(chances.slice(this.ours));
    if (none >= confidence || chances.slice(0, this.ours).some((chance) => chance >= confidence)) return null;
    const likely = this.likely(chances);
    const asked = [...this.questions.filter((question) => question.open(seen)), ...this.otherEnd(seen)]
      .map((question) => ({ question, ...this.worth(question, chances, likely) }))
      .filter((worth) => worth.bits >= least_bits && worth.changes >= seldom);
    const best = soonest(this, asked, seen, chances, likely);
    if (!best) return null;
    const { number, seconds, ask } = best.question;
    return { number, seconds, bits: best.bits, words: askFor(ask, this.tells(best.question, chances)) };
  }

  /** The hypotheses that matter, the likeliest first. */
  likely(chances) {
    const order = chances.map((_, h) => h).sort((a, b) => chances[b] - chances[a]);
    let all = 0;
    const last = order.findIndex((h) => { all += chances[h]; return all >= 1 - this.limits.left_out; });
    return last < 0 ? order : order.slice(0, last + 1);
  }

  /** What an answer is expected to tell of the mark, in bits; and how likely it leads to another decision than now. */
  worth(question, chances, likely) {
    const all = new Mixture(question);
    const none = new Mixture(question);
    let left = 0;
    for (const h of likely) {
      const row = question.row(this.all[h]);
      all.add(row, chances[h]);
      if (h < this.ours) left += chances[h] * row.entropy;
      else none.add(row, chances[h]);
    }
    const bits = Math.max(0, all.entropy() - left - none.entropy()) / Math.LN2;
    return { bits, changes: this.changes(question, chances, likely.filter((h) => h < this.ours), all, none) };
  }

  changes(question, chances, ours, all, none) {
    let [far, farOf] = [0, -1];
    for (const h of ours) {
      const chance = chances[h] * question.row(this.all[h]).weight;
      if (chance > far) [far, farOf] = [chance, h];
    }
    const best = new Float64Array(question.answers);
    const bestOf = new Int32Array(question.answers).fill(farOf);
    if (question.any) for (let i = 0; i < best.length; i += 1) best[i] = far * question.any[i];
    for (const h of ours) {
      const { weight, near } = question.row(this.all[h]);
      for (const [answer, chance] of near) {
        const p = chances[h] * (chance + (question.any ? weight * question.any[answer] : 0));
        if (p > best[answer]) [best[answer], bestOf[answer]] = [p, h];
      }
    }
    const [first] = ours;
    const now = first !== undefined && chances[first] > none.chance ? first : -1;
    let changes = 0;
    for (let i = 0; i < best.length; i += 1) {
      const [p, q] = [all.at(i), none.at(i)];
      const then = best[i] > q ? bestOf[i] : -1;
      if (then !== now || Math.max(best[i], q) >= this.limits.confidence * p) changes += p;
    }
    return changes;
  }

  /** What the likeliest would show, where those are nearly all there is. */
  tells(question, chances) {
    if (question.read === "kind") return [];
    const likely = this.likely(chances).filter((h) => h < this.ours && chances[h] >= 0.02);
    const tells = [];
    let covers = 0;
    for (const h of likely) {
      const shows = question.shows(this.all[h]);
      const known = tells.find(([said]) => said === shows);
      if (!shows || (!known && tells.length === 4)) continue;
      if (known) known[1].push(...this.all[h].marks);
      else tells.push([shows, [...this.all[h].marks]]);
      covers += chances[h];
    }
    return covers >= 0.9 ? tells : [];
  }
}

export function rowOf(chances) {
  return { weight: 0, near: [...chances.entries()], entropy: -sum(chances.map(pLnP)) };
}

/** Minus the sum of p ln p over all answers, of so much of what anything shows and what is near. */
function entropyOf(question, weight, near) {
  const weightLn = pLnP(weight);
  let all = 0;
  for (let i = 0; i < question.answers; i += 1) {
    const any = question.any ? question.any[i] : 0;
    if (near[i] > 0) all += pLnP(near[i] + weight * any);
    else if (any > 0) all += weight * question.anyLn[i] + any * weightLn;
  }
  return -all;
}

/** The chances of all answers, over several hypotheses. */
export class Mixture {
  constructor(question) {
    this.question = question;
    this.chance = 0;
    this.weight = 0;
    this.near = new Float64Array(question.answers);
  }

  add({ weight, near }, chance) {
    this.chance += chance;
    this.weight += chance * weight;
    for (const [answer, p] of near) this.near[answer] += chance * p;
  }

  at(answer) {
    return this.near[answer] + (this.question.any ? this.weight * this.question.any[answer] : 0);
  }

  entropy() {
    return this.chance > 0 ? entropyOf(this.question, this.weight, this.near) + pLnP(this.chance) : 0;
  }
}
