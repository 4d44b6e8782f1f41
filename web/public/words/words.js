// Says the page in another language. The English sentence is the key: it is looked up in a catalogue (gettext's PO format),
// and what was filled in stands in the translation again, translated itself where it is a sentence of the catalogue.
// Fetched only by those who chose another language; English needs none of it.

const SLOT = /\{\d+\}/;
const LETTERS = /\p{L}\p{L}/u;
const KEPT = 5000; // texts said, our choice: some screens of them

/** Units and marks that are the same everywhere: letters that are no words. */
const NO_WORD = /(?<!\p{L})(mm|cm|m|in|ft|kPa|bar|psi|Pa|N|Nm|l|km|kg|min|EPDM|NBR|CR|ISO|DIN|SAE|QR|[A-D]|D-\d)(?!\p{L})/gu;

/** The letters of a text that are words, after units are taken out: how much of it is not said yet. */
const unsaid = (text) => text.replace(NO_WORD, '').match(/\p{L}{2,}/gu)?.join('').length ?? 0;

const letters = (texts) => texts.reduce((sum, text) => sum + unsaid(text), 0);

/** A decimal comma in place of the point, but not in numbers of three parts, as sections and versions have. */
const withComma = (text) => text.replace(/(?<![\d.])(\d+)\.(\d+)(?![\d.]*\d)/g, '$1,$2');

/** The pairs of a catalogue: lines of msgid and msgstr, as `tests/src/words.rs` holds them. */
export function pairs(po) {
  const found = new Map();
  let id;
  for (const line of po.split('\n')) {
    if (line.startsWith('msgid ')) id = JSON.parse(line.slice(6));
    if (line.startsWith('msgstr ') && id) found.set(id, JSON.parse(line.slice(7)));
  }
  return found;
}

const escaped = (literal) => literal.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

/** What a sentence with slots looks like, which slots it has, and how many of its letters stand fast. */
function pattern([id, words]) {
  const parts = id.split(SLOT);
  return {
    looks: new RegExp(`^${parts.map(escaped).join('(.*?)')}$`, 'su'),
    longest: parts.toSorted((a, b) => b.length - a.length)[0],
    parts,
    slots: id.match(/\{\d+\}/g),
    fast: parts.join('').length,
    words,
  };
}

const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);
const small = (text) => text.charAt(0).toLowerCase() + text.slice(1);

// Where a text may be taken apart if no sentence of the catalogue is the whole of it; what parts it stays.
// The first STRONG of them are ends of sentences.
const STRONG = 4;
// "1 1/4" stays whole.
const SEAMS = [/(?<=[.!?]) +/gu, /\.$/gu, /; /gu, /: /gu, /, /gu, / [·–] /gu, / \(/gu, /\)/gu, /–/gu,
  /(?<!\d(?= \d+\/)) (?=[\d(−])/gu, /(?<=[\d%°]|\d (?:mm|in|°C|kPa|l))(?! \d+\/) /gu];

/** A part of a sentence that begins or ends with the mark of a seam, without that mark as well: so it stands once it is taken apart. */
function withoutMarks([id, words]) {
  const bare = (text) => text.replace(/^[,;:] /u, '').replace(/[:;,]$/u, '');
  return bare(id) === id ? [[id, words]] : [[id, words], [bare(id), bare(words)]];
}

const UNIT = /^(?:\d+\/\d|(?:mm|cm|in|ft|°|%|l|kPa|bar|psi|N|km)(?!\p{L}))/u;

/** Whether what was filled in can be so: no part of a row, and no number without the unit behind it. */
const canBe = (filled, parts) => filled.every((value, i) => !value.includes(' · ')
  && !(/\d$/u.test(value) && parts[i + 1] === ' ' && UNIT.test(filled[i + 1])));

/** A pattern is looked for by its first letter; those that begin with a slot stand under ''. */
function byFirst(patterns) {
  const groups = new Map();
  for (const one of patterns) {
    const first = one.parts[0].charAt(0);
    groups.set(first, [...(groups.get(first) ?? []), one]);
  }
  return groups;
}

/** Says texts by a catalogue. `missing` gathers what could not be said, for the tests. */
export function speaker(pairs) {
  const catalogue = [...pairs].flatMap(withoutMarks);
  const whole = new Map(catalogue.filter(([id]) => !SLOT.test(id)));
  const patterns = byFirst(catalogue.filter(([id]) => SLOT.test(id)).map(pattern).sort((a, b) => b.fast - a.fast));
  const said = new Map();
  const missing = new Set();

  /** The best of what is filled into a sentence, or of two parts beside a seam. */
  function together(parts, join, than) {
    const each = parts.map(best);
    const left = each.flatMap((one) => one.left);
    return letters(left) < letters(than.left) ? { words: join(each.map(({ words }) => words)), left } : than;
  }

  function byPattern(text, { looks, parts, slots, words }, than) {
    const filled = looks.exec(text)?.slice(1);
    if (!filled || !canBe(filled, parts)) return than;
    return together(filled, (each) => words.replace(/\{\d+\}/g, (slot) => each[slots.indexOf(slot)]), than);
  }

  function besideSeams(text, seam, than) {
    let found = than;
    for (const { 0: mark, index } of text.matchAll(seam)) {
      if (found.left.length === 0) break;
      found = together([text.slice(0, index), text.slice(index + mark.length)], ([a, b]) => a + mark + b, found);
    }
    return found;
  }

  function search(text, again = true) {
    const known = whole.get(text) ?? (whole.has(small(text)) ? capital(whole.get(small(text))) : undefined);
    if (known !== undefined) return { words: known, left: [] };
    if (unsaid(text) === 0) return { words: withComma(text), left: [] };
    let found = { words: text, left: [text] };
    const fit = [...patterns.get(text.charAt(0)) ?? [], ...patterns.get('') ?? []].filter(({ longest }) => text.includes(longest));
    // What says most of the text by itself first, then whole sentences, then the rest: the first that leaves nothing is taken. Two fifths of it: our choice.
    const much = 0.4 * text.length;
    const ways = [
      ...fit.filter(({ fast }) => fast >= much), ...SEAMS.slice(0, STRONG), ...fit.filter(({ fast }) => fast < much), ...SEAMS.slice(STRONG),
    ];
    for (const way of ways) {
      if (found.left.length === 0) return found;
      found = way instanceof RegExp ? besideSeams(text, way, found) : byPattern(text, way, found);
    }
    if (!again || found.left.length === 0) return found;
    // A fragment at the head of a sentence, or a sentence behind a colon.
    const [other, back] = small(text) === text ? [capital, small] : [small, capital];
    const { words, left } = search(other(text), false);
    return letters(left) < letters(found.left) ? { words: back(words), left } : found;
  }

  function best(text) {
    const [, before, inside, after] = /^(\s*)(.*?)(\s*)$/su.exec(text);
    if (!LETTERS.test(inside)) return { words: withComma(text), left: [] };
    let one = said.get(inside);
    if (!one) {
      one = search(inside);
      if (said.size >= KEPT) said.clear();
      said.set(inside, one);
    }
    return { words: before + one.words + after, left: one.left };
  }

  return {
    missing,
    say(text) {
      const { words, left } = best(text);
      left.forEach((one) => missing.add(one));
      return words;
    },
  };
}

/** Says what stands in an element in place of the English words. */
function sayIn(element) {
  const { say } = globalThis.speaks;
  const texts = document.createTreeWalker(element, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) texts.currentNode.data = say(texts.currentNode.data);
  for (const each of element.querySelectorAll('[aria-label]')) each.setAttribute('aria-label', say(each.getAttribute('aria-label')));
}

/** Brings a language, and says what stands on the page there already. Gives what says more of it; nothing where it does not come. */
export async function speak(language, there) {
  const catalogue = await fetch(new URL(`${language}.po`, import.meta.url));
  if (!catalogue.ok) return undefined;
  globalThis.speaks = speaker(pairs(await catalogue.text()));
  document.documentElement.lang = language;
  for (const element of document.querySelectorAll(there)) sayIn(element);
  return sayIn;
}
