// Sizes as people write them, read and written; and what is known of a piece, in words. As the program itself has it
// (crates/measure, and words.rs in crates/tell), so that a page says the same in reach and out of it.

const FOOT = 304_800_000;
const INCH = 25_400_000;
const POUND = 0.453_592_37;
const LENGTHS = { mm: 1e6, cm: 1e7, m: 1e9, in: INCH, ft: FOOT };
const MASSES = { g: 1e6, kg: 1e9, oz: (POUND * 1e9) / 16, lb: POUND * 1e9 };
const NAMES = {
  foot: "ft", feet: "ft", "'": "ft", inch: "in", inches: "in", '"': "in",
  gram: "g", grams: "g", kilogram: "kg", kilograms: "kg", ounce: "oz", ounces: "oz", pound: "lb", pounds: "lb", lbs: "lb",
};
const NUMBER = String.raw`(\d+[ -]+\d+/\d+|\d+/\d+|\d+(?:[.,]\d+)?)`;
const UNIT = String.raw`(?:\s*-?([a-z]+\.?|'|"))?`;
const VULGAR = { "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8" };

/** A number as it stands in a text; NaN where it is unclear. `metric` ones may have a decimal comma. */
function number(text, metric) {
  if (text.includes(",")) return metric && !/,\d{3}$/.test(text) ? Number(text.replace(",", ".")) : NaN;
  const parts = text.split(/[ -]+/).map((part) => { const [top, bottom = "1"] = part.split("/"); return Number(bottom) ? Number(top) / Number(bottom) : NaN; });
  return parts.reduce((all, one) => all + one, 0);
}

/** Whole parts of a unit (nanometres, micrograms) that a text means; null where it is not clear. Of two units the first
 *  must be whole, and the second less than one of the first: 10 ft 6-1/2 in. */
function read(text, units, bare, large, small) {
  const plain = text.trim().toLowerCase().replace(/[′’‘]/g, "'").replace(/[″”“]/g, '"').replace(/''/g, '"')
    .replace(/[½¼¾⅛⅜⅝⅞]/g, (sign, at) => (at > 0 ? " " : "") + VULGAR[sign]);
  const found = new RegExp(String.raw`^(-?)${NUMBER}${UNIT}(?:\s*[-,]?\s*${NUMBER}${UNIT})?$`).exec(plain);
  if (!found) return null;
  const unit = (word) => { const name = word.replace(".", ""); return NAMES[name] ?? name; };
  const [, minus, first, firstWord, second, secondWord] = found;
  const is = firstWord ? unit(firstWord) : bare;
  if (!Object.hasOwn(units, is)) return null;
  const metric = !["ft", "in", "lb", "oz"].includes(is);
  let all = number(first, metric) * units[is];
  if (second !== undefined) {
    const less = number(second, false) * units[small];
    const fits = is === large && firstWord && /^\d+$/.test(first) && unit(secondWord ?? small) === small && less < units[large];
    if (!fits) return null;
    all += less;
  }
  return Number.isFinite(all) && all <= 1e15 ? Math.round(all) * (minus ? -1 : 1) : null;
}

export const readLength = (text, inch) => read(text, LENGTHS, inch ? "in" : "mm", "ft", "in");
export const readMass = (text, inch) => read(text, MASSES, inch ? "lb" : "kg", "lb", "oz");

/** To the tape's next mark: "10 ft 6-1/2 in", "3213 mm". */
export function tape(nanometres, inch) {
  const step = inch ? INCH / 16 : 1e6;
  const marks = Math.round(Math.abs(nanometres) / step);
  const sign = nanometres < 0 && marks > 0 ? "-" : "";
  if (!inch) return `${sign}${marks} mm`;
  const [feet, rest] = [Math.floor(marks / 192), marks % 192];
  const [whole, part] = [Math.floor(rest / 16), rest % 16];
  const shift = part ? Math.min(4, Math.log2(part & -part)) : 0;
  const fraction = part ? `${part >> shift}/${16 >> shift}` : "";
  const inches = [whole || !part ? whole : "", fraction].filter((text) => text !== "").join("-");
  if (rest === 0 && feet) return `${sign}${feet} ft`;
  return `${sign}${feet ? `${feet} ft ` : ""}${inches} in`;
}

export function caliper(nanometres, inch) {
  return inch ? `${fixed(nanometres / INCH, 3)} in` : `${fixed(nanometres / 1e6, 1)} mm`;
}

/** With so many places; halfway between two, which binary fractions of an inch often are, the even one. */
function fixed(number, places) {
  const parts = number * 10 ** places;
  const even = 2 * Math.round(parts / 2);
  return (Math.abs(parts - even) === 0.5 ? even / 10 ** places : number).toFixed(places);
}

export function mass(micrograms, inch, places) {
  return inch ? `${(micrograms / 1e9 / POUND).toFixed(places)} lb` : `${(micrograms / 1e9).toFixed(places)} kg`;
}

/** An amount, in metres or kilograms, as a way of measuring shows it. */
export function amount(by, is, inch) {
  if (by === "tape" || by === "around") return tape(Math.round(is * 1e9), inch);
  if (by !== "scale") return caliper(is * 1e9, inch);
  if (inch) return is < POUND ? `${((is / POUND) * 16).toFixed(1)} oz` : mass(is * 1e9, inch, 1);
  return is < 1 ? `${(is * 1e3).toFixed(0)} g` : mass(is * 1e9, inch, 1);
}

/** "R1 or R3". */
export function either(marks) {
  return marks.length < 2 ? marks.join("") : `${marks.slice(0, -1).join(", ")} or ${marks.at(-1)}`;
}

/** Never a hundred and never nought, for nothing is that sure. */
export function percent(p) {
  if (p > 0.99) return "over 99 %";
  return p < 0.01 ? "under 1 %" : `${Math.round(p * 100)} %`;
}

/** A question with what each answer to it means. */
export function askFor(ask, tells) {
  if (tells.length === 0) return ask;
  return `${ask.replace(/\?$/, "")}: ${tells.map(([shows, marks]) => `${shows} is ${either(marks)}`).join(", ")}`;
}

/** What a piece is, as far as the readings say. */
export function inWords(candidates, none, nearest, decided, confidence) {
  const [first] = candidates;
  if (!first || first.chance < none) return noneInWords(none, nearest, first, confidence);
  const name = either(first.marks);
  const share = percent(first.chance);
  const also = [...candidates.slice(1, 5).map((c) => [either(c.marks), c.chance]), ["none of this order", none]]
    .sort((a, b) => b[1] - a[1]).filter(([, p]) => p >= 0.01).map(([of, p]) => `${of}, ${percent(p)}`);
  let said;
  if (first.chance > 0.99) said = `Surely ${name}, ${share}`;
  else if (decided) said = `Almost surely ${name}, ${share}`;
  else if (first.chance >= 0.8) said = `Likely ${name}, ${share}`;
  else if (first.chance >= 0.5) said = `Perhaps ${name}, ${share}`;
  else return `Cannot tell yet: ${[`${name}, ${share}`, ...also.slice(0, 2)].join("; ")}`;
  if (decided) return first.marks.length > 1 ? `${said}: nothing to measure tells them apart` : said;
  return also.length ? `${said}; or ${also[0]}` : said;
}

function noneInWords(none, nearest, first, confidence) {
  const sure = none > 0.99 ? "Surely" : none >= confidence ? "Almost surely" : none >= 0.8 ? "Likely" : "Perhaps";
  let said = `${sure} none of this order, ${percent(none)}`;
  if (first?.chance >= 0.05) said += `; or ${either(first.marks)}, ${percent(first.chance)}`;
  if (!nearest || nearest.chance <= 0.5 * none) return said;
  return `${said}. It looks like ${nearest.marks[0]}, ${nearest.noun}, of ${nearest.of}: a piece from another order?`;
}
