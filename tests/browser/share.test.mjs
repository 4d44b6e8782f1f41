// A run handed on: the link opens to the same answer elsewhere, never over a run at hand, and a bad one is explained.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { openWorkshop } from './lib/workshop.mjs';

let workshop;
before(async () => { workshop = await openWorkshop(); });
after(() => workshop.close());

const visit = (t, at = '') => workshop.person(t, { at });

/** The fragment of a link to the example with another seat at A. */
async function linkOfAChangedRun(t) {
  const sender = await visit(t);
  await sender.type('Spigot A', 'how far the hose goes on', '41,3');
  await sender.seeCutLength('495 mm, 19 1/2 in');
  const link = await sender.page.getByLabel('This run as a link').inputValue();
  return { sender, link, fragment: link.slice(link.indexOf('#')) };
}

test('a link opens on another phone to the same answer, and is short', async (t) => {
  const { link, fragment } = await linkOfAChangedRun(t);
  assert.ok(link.length <= 200, `${link.length} characters`);
  const other = await visit(t, fragment);
  await other.seeCutLength('495 mm, 19 1/2 in');
  assert.equal(await other.reads('Spigot A', 'how far the hose goes on'), '41.3 mm');
  assert.equal(await other.page.evaluate(() => location.hash), '', 'the link leaves the address once it is open');
  await other.page.reload();
  await other.seeAnswer();
  assert.equal(await other.cutLength(), '495 mm, 19 1/2 in', 'the run that came is kept');
  assert.deepEqual(other.complaints, []);
});

test('a link never overwrites the run at hand', async (t) => {
  const { fragment } = await linkOfAChangedRun(t);
  const other = await visit(t);
  await other.type('Spigot A', 'name', 'my own');
  await other.page.evaluate((hash) => { location.hash = hash; }, fragment);
  await other.page.getByText('A run came with the link').waitFor();
  await other.press('Keep mine');
  assert.equal(await other.reads('Spigot A', 'name'), 'my own');
  await other.page.evaluate((hash) => { location.hash = hash; }, fragment);
  await other.page.getByRole('alert').getByRole('button', { name: 'Open it' }).click();
  await other.seeCutLength('495 mm, 19 1/2 in');
  await other.page.reload();
  await other.seeAnswer();
  await other.press('Undo');
  assert.equal(await other.reads('Spigot A', 'name'), 'my own', 'even after the page was started anew');
});

test('a damaged or a cut link is explained, and the page works on', async (t) => {
  const { fragment } = await linkOfAChangedRun(t);
  const swapped = fragment[20] === 'x' ? 'y' : 'x';
  for (const bad of [fragment.slice(0, -12), fragment.slice(0, 20) + swapped + fragment.slice(21)]) {
    const other = await visit(t, bad);
    assert.match(await other.seeAlert(), /cannot be opened/);
    await other.seeCutLength('480 mm, 18 7/8 in');
    assert.deepEqual(other.complaints, []);
  }
});

test('a code pasted with what a chat program adds is opened, and a wrong one explained beside its place', async (t) => {
  const { link } = await linkOfAChangedRun(t);
  const other = await visit(t);
  const paste = other.page.getByLabel('Paste a link or code');
  await paste.fill('hello');
  await other.press('Open it');
  await other.page.locator('#paste-wrong').getByRole('paragraph').waitFor();
  await paste.fill(`  <${link}>. `);
  await other.press('Open it');
  await other.seeCutLength('495 mm, 19 1/2 in');
});

test('the QR code is drawn, dark on light', async (t) => {
  const person = await visit(t);
  await person.press('Show it as a code');
  const code = person.page.getByRole('img', { name: 'QR code of this run' });
  await code.waitFor();
  const modules = Number((await code.getAttribute('viewBox')).split(' ')[2]) - 8;
  // ISO/IEC 18004: version v has 17 + 4 v modules a side; a phone reads up to version 13 (69) with ease.
  assert.ok((modules - 17) % 4 === 0 && modules <= 69, `${modules} modules`);
});

/** A phone with a list of ways to send of its own; what it is handed stands in `handed`, and it answers with `answer`. */
async function withShareList(t, answer) {
  const person = await visit(t);
  await person.page.addInitScript((answer) => {
    Navigator.prototype.share = async (data) => {
      globalThis.handed = data;
      if (answer) throw new DOMException(answer, answer);
    };
  }, answer);
  await person.comeBack();
  await person.seeAnswer();
  return person;
}

test('the phone\'s own list of ways to send gets the name and the link of the run', async (t) => {
  const person = await withShareList(t, '');
  await person.press('Send it …');
  const handed = await (await person.page.waitForFunction(() => globalThis.handed)).jsonValue();
  const link = await person.page.getByLabel('This run as a link').inputValue();
  assert.deepEqual(handed, { title: 'Hosewright', text: 'heater flow', url: link });
  assert.deepEqual(person.complaints, []);
});

test('calling the list off is no fault, a refusal is told', async (t) => {
  const said = 'It could not be handed over';
  const changed = await withShareList(t, 'AbortError');
  await changed.press('Send it …');
  await changed.page.waitForFunction(() => globalThis.handed);
  await changed.press('Show it as a code');
  await changed.page.getByRole('img', { name: 'QR code of this run' }).waitFor();
  assert.equal(await changed.page.getByText(said).count(), 0);
  const refused = await withShareList(t, 'NotAllowedError');
  await refused.press('Send it …');
  await refused.page.getByText(said).waitFor();
  assert.deepEqual([...changed.complaints, ...refused.complaints], []);
});

test('where the browser has no such list the button is not there', async (t) => {
  const person = await visit(t);
  await person.page.addInitScript(() => { delete Navigator.prototype.share; });
  await person.comeBack();
  await person.seeAnswer();
  assert.equal(await person.page.getByRole('button', { name: 'Send it …' }).count(), 0);
  await person.page.getByRole('button', { name: 'Copy the link' }).waitFor();
});
