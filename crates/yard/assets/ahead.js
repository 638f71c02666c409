// Which question leads to a decision soonest, when what it leaves open must be asked too: a few questions ahead, as the
// program itself does it (crates/tell, ahead.rs), with answers put together that speak for the same candidate.
import { Mixture, pLnP, rowOf } from "./asking.js";
import { sum } from "./telling.js";

const MOST_CANDIDATES = 8;
const NEARLY_ALL = 0.99;
const MOST_QUESTIONS = 6;
const DEPTH = 4;
const MOST_COURSES = 4000;

/** Of questions with their worth, the one to ask first. */
export function soonest(kit, asked, seen, chances, likely) {
  const ahead = [...asked].sort((a, b) => b.bits / b.question.seconds - a.bits / a.question.seconds);
  const candidates = likely.filter((h) => h < kit.ours).slice(0, MOST_CANDIDATES);
  const none = sum(chances.slice(kit.ours));
  if (sum(candidates.map((h) => chances[h])) + none < NEARLY_ALL || ahead.length < 2) return ahead[0] ?? null;
  ahead.splice(MOST_QUESTIONS);
  const others = likely.filter((h) => h >= kit.ours);
  const questions = ahead.map(({ question }) => question);
  const ends = questions.find((question) => question.number === kit.eye[kit.ends].number);
  if (ends && Math.max(...seen.ends) < 0) questions.push(bothEnds(kit, ends));
  const briefs = questions.map((question) => brief(kit, question, candidates, others, chances));
  const weights = [...candidates.map((h) => chances[h]), none];
  const [, first] = least(briefs, weights, deepest(briefs), kit.limits.confidence);
  return ahead.find(({ question }) => question.number === first) ?? null;
}

/** Both ends one after the other. */
function bothEnds(kit, ends) {
  const all = Array.from({ length: ends.answers ** 2 }, (_, i) => [Math.floor(i / ends.answers), i % ends.answers]);
  return { ...ends, seconds: 2 * ends.seconds, answers: all.length, row: (h) => rowOf(all.map((said) => kit.endsChance(h, said))) };
}

function brief(kit, question, candidates, others, chances) {
  const none = new Mixture(question);
  for (const h of others) none.add(question.row(kit.all[h]), chances[h]);
  const rows = candidates.map((h) => question.row(kit.all[h]));
  const anything = question.row(kit.all.at(-1)).weight;
  const near = new Map();
  rows.forEach((row, i) => {
    for (const [answer, chance] of row.near) {
      if (!near.has(answer)) {
        const any = question.any ? question.any[answer] : 0;
        near.set(answer, [...rows.map(({ weight }) => weight * any), others.length ? none.at(answer) / none.chance : anything * any]);
      }
      near.get(answer)[i] += chance;
    }
  });
  const left = Array(candidates.length + 1).fill(1);
  const kinds = new Map();
  for (const row of near.values()) {
    const key = speaksFor(row);
    if (!kinds.has(key)) kinds.set(key, row.map(() => 0));
    row.forEach((chance, i) => { kinds.get(key)[i] += chance; left[i] -= chance; });
  }
  return { number: question.number, seconds: question.seconds, answers: [...kinds.values(), left.map((chance) => Math.max(0, chance))] };
}

/** The candidate that an answer speaks for, and how clearly. */
function speaksFor(row) {
  let [first, second, at] = [0, 0, 0];
  row.forEach((chance, i) => {
    if (chance > first) [second, first, at] = [first, chance, i];
    else if (chance > second) second = chance;
  });
  const clearly = first / Math.max(second, Number.MIN_VALUE);
  return `${at} ${clearly < 3 ? 0 : clearly < 20 ? 1 : 2}`;
}

/** As deep as the courses are not too many. */
function deepest(briefs) {
  const each = sum(briefs.map((brief) => brief.answers.length)) / Math.max(1, briefs.length);
  let courses = 1;
  for (let deep = 0; deep < DEPTH; deep += 1) {
    courses *= each * Math.max(0, briefs.length - deep);
    if (courses > MOST_COURSES) return Math.max(1, deep);
  }
  return DEPTH;
}

/** The least seconds to a decision, times the sum of the weights, and what is asked first for that. */
function least(open, weights, depth, confidence) {
  const chance = sum(weights);
  if (weights.some((weight) => weight >= confidence * chance) || open.length === 0 || chance < 1e-6) return [0, null];
  if (depth === 0) return [atTheirPace(open, weights, chance), null];
  let [best, first] = [Infinity, null];
  for (const { number, seconds, answers } of open) {
    const then = open.filter((other) => other.number !== number);
    let cost = chance * seconds;
    for (const answer of answers) {
      if (cost >= best) break;
      cost += least(then, weights.map((weight, i) => weight * answer[i]), depth - 1, confidence)[0];
    }
    if (cost < best) [best, first] = [cost, number];
  }
  return [best, first];
}

function atTheirPace(open, weights, chance) {
  const before = entropy(weights);
  return Math.min(...open.map(({ seconds, answers }) => {
    const told = before - sum(answers.map((answer) => entropy(weights.map((weight, i) => weight * answer[i]))));
    return chance * seconds * Math.max(1, before / Math.max(told, 0.01 * before));
  }));
}

const entropy = (weights) => pLnP(sum(weights)) - sum(weights.map(pLnP));
