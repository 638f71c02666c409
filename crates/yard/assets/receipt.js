// Words for the delivery receipt, and what is empty in them or missing from them. As the program itself has it
// (receipt_note.rs and receipt_words.rs in crates/claim), so that a page says the same in reach and out of it.

/** The name of so many units; what has no name of its own is a unit. */
function named(seen, many, data) {
  const [one, more] = data.units.find(([one]) => one === seen.unit) ?? (seen.unit === "unit" ? ["unit", "units"] : ["piece", "pieces"]);
  const name = many === 1 ? one : more;
  return seen.of ? `${seen.of} ${name}` : name;
}

function harmWords(seen, data) {
  // A number that nobody said is a blank, to be filled in by hand.
  const harmed = seen.harmed > 0 ? seen.harmed : "__";
  const all = seen.came ?? seen.billed;
  const words = all !== null && all >= seen.harmed ? `${harmed} of ${all} ${named(seen, all, data)}` : `${harmed} ${named(seen, seen.harmed || 2, data)}`;
  const harm = seen.harm || "harmed";
  return seen.place ? `${words}: ${seen.place} ${harm}` : `${words} ${harm}`;
}

/** What is short or over, then what is harmed. */
function rowWords(seen, data) {
  const parts = [];
  const { billed, came } = seen;
  if (billed !== null && came !== null && billed !== came) {
    const off = Math.abs(billed - came);
    parts.push(`${off} ${named(seen, off, data)} ${billed > came ? "short" : "over"} (${billed} billed, ${came} received)`);
  }
  if (seen.harmed > 0 || seen.harm) parts.push(harmWords(seen, data));
  return parts;
}

function whole(seen, data) {
  if (seen.billed === null || seen.came === null) return [];
  return [`${seen.came} ${named(seen, seen.came, data)} counted of ${seen.billed} billed, no harm seen from outside`];
}

/** The words for the receipt. What is short or over of all units is said where no row says of which kind. */
export function receiptNote(rows, counted, billed, seal, data) {
  const seen = [...rows];
  const told = seen.some((row) => row.billed !== null && row.came !== null && row.billed !== row.came);
  const differs = billed !== null && counted !== null && billed !== counted;
  if ((differs && !told) || (seen.length === 0 && counted !== null)) {
    seen.unshift({ unit: "unit", of: "", billed, came: counted, harmed: 0, harm: "", place: "" });
  }
  let parts = seen.flatMap((row) => rowWords(row, data));
  if (parts.length === 0) parts = seen.flatMap((row) => whole(row, data));
  if (seal.state) parts.push(`seal${seal.number ? ` ${seal.number}` : ""} ${seal.state}`);
  return parts.length ? `${parts.join("; ")}.` : "";
}

/** What a row leaves open, a question each. */
export function lacking(seen, data) {
  const many = named(seen, 2, data);
  const asks = [];
  if (seen.billed === null) asks.push(`How many ${many} does the freight bill say?`);
  if (seen.came === null) asks.push(`How many ${many} came off the truck? Count them.`);
  else if (seen.harmed > seen.came) asks.push(`${seen.harmed} ${many} are harmed, but ${seen.came} came: which is right?`);
  if (seen.harm && seen.harmed === 0) asks.push(`How many ${many} are harmed?`);
  if (seen.harmed > 0 || seen.harm) {
    if (!seen.harm) asks.push(`What happened to the ${many}: bent, broken, crushed, torn, wet?`);
    if (!seen.place) asks.push(`Where on the ${many}: which side, end or corner?`);
  }
  return asks;
}

/** What is wrong with somebody's own words for the receipt, a sentence each. */
export function troubles(text, data) {
  const words = text.toLowerCase().split(/[^\p{L}\p{N}]+/u).filter(Boolean);
  if (words.length === 0) return [];
  const has = (known) => words.some((word) => known.includes(word));
  const phrase = (at, said) => said.split(" ").every((word, i) => words[at + i] === word);
  const found = words.flatMap((_, at) => {
    const end = emptyUntil(words, at, phrase, data);
    return end ? [data.says.empty.replace("{}", words.slice(at, end).join(" "))] : [];
  });
  const harmed = has(data.moreHarms) || has(data.harms);
  const amiss = has(data.amiss) || words.some((_, at) => phrase(at, "not delivered") || phrase(at, "not received"));
  const onlyMissing = !has(data.harms) && words.every((word) => word === "missing" || !data.moreHarms.includes(word));
  if (!words.some((word) => /^[0-9]+$/.test(word)) && !has(data.numbers)) found.push(data.says.noCount);
  if (!has(data.moreUnits) && !has(data.units.flat())) found.push(data.says.noUnit);
  if (!harmed && !amiss) found.push(data.says.noHarm);
  if (harmed && !has(data.places) && !onlyMissing) found.push(data.says.noPlace);
  return found;
}

/** Where an empty phrase that begins here ends. */
function emptyUntil(words, at, phrase, data) {
  if (["subject", "subj"].includes(words[at]) && words[at + 1] === "to") {
    const end = words.slice(at, at + 6).findIndex((word) => data.subjectTo.includes(word));
    return end < 0 ? 0 : at + end + 1;
  }
  const said = data.empty.find((one) => phrase(at, one));
  return said ? at + said.split(" ").length : 0;
}
