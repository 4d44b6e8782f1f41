// Lighthouse finds no fault with the start page once its answer stands there: nobody is shut out, and it is made as the web asks; nor does
// the answer push away what one reads while it comes.
// Its figures of speed are not looked at here: no spec times anything. speed.mjs measures them.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { openLighthouse } from './lib/lighthouse.mjs';

let lighthouse;
before(async () => { lighthouse = await openLighthouse(); });
after(() => lighthouse.close());

/** Every audit that takes something off a score, with what it found. */
const failing = ({ categories, audits }) => Object.values(categories).flatMap(({ id, auditRefs }) => auditRefs
  .filter((each) => each.weight > 0 && audits[each.id].score !== null && audits[each.id].score < 1)
  .map((each) => `${id}, ${each.id}: ${audits[each.id].title} ${JSON.stringify(audits[each.id].details?.items ?? []).slice(0, 800)}`));

// Audits that have something to look at on this page; had they found nothing of their kind, 100 would say little.
const LOOKED_AT = ['color-contrast', 'button-name', 'link-name', 'label', 'html-has-lang', 'aria-allowed-attr', 'errors-in-console', 'deprecations', 'is-on-https', 'viewport', 'inspector-issues'];

// What the Web Vitals call good.
const MOST_SHIFT = 0.1;

for (const scheme of ['light', 'dark']) {
  test(`accessibility and best practices are 100 with the answer there, in ${scheme}`, async () => {
    const { lhr, stood, scheme: had, shifts } = await lighthouse.audits(scheme);
    assert.deepEqual([lhr.runtimeError, lhr.runWarnings], [undefined, []], 'it could look at the page');
    assert.ok(stood, 'the answer stands there');
    assert.equal(had, scheme);
    assert.deepEqual(LOOKED_AT.filter((id) => typeof lhr.audits[id]?.score !== 'number'), [], 'audits that did not look at anything');
    assert.deepEqual(failing(lhr), []);
    assert.deepEqual(Object.fromEntries(Object.values(lhr.categories).map(({ id, score }) => [id, score])), { accessibility: 1, 'best-practices': 1 });
    const sum = shifts.reduce((sum, { value }) => sum + value, 0);
    assert.ok(sum <= MOST_SHIFT, `pushed away: ${JSON.stringify(shifts)}`);
  });
}
