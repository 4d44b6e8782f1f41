// Every screen of the page, and how a person gets there: for the specs that look at all of them, and for their pictures.

/** The keys of a number, and then the way. */
export const walk = (number, way) => [...String(number), way];

const straight = ['Measure one hose', '16', 'A points right', 'Now place B', ...walk(210, 'right'), ...walk(280, 'away')];

/** Name, and what is done from the first screen of an empty browser. */
export const SCREENS = [
  ['example', async () => {}],
  ['sheet in inches', (person) => person.tapAll(['Change the unit'])],
  ['spigot A', (person) => person.tapAll(['Measure one hose'])],
  ['spigot A said', (person) => person.tapAll(['Measure one hose', '16', 'A points right', 'A points away'])],
  ['how to measure', async (person) => {
    await person.tapAll(['Measure one hose', 'How to measure its size']);
    await person.page.getByRole('button', { name: 'Read the slope' }).waitFor();
  }],
  ['how good', async (person) => {
    await person.tapAll(['How good is it?']);
    await person.page.getByRole('heading', { name: 'How good is it?' }).waitFor();
  }],
  ['place B', (person) => person.tapAll(straight)],
  ['place B in inches', (person) => person.tapAll(['Change the unit', 'Measure one hose', '5/8', 'A points right', 'Now place B', '8', '¼'])],
  ['spigot B said', (person) => person.tapAll([...straight, ...walk(70, 'up'), 'B points to you'])],
  ['pipe', (person) => person.tapAll([...straight, ...walk(70, 'up'), 'B points to you', 'Hot pipe near it', 'up–down', ...walk(50, 'right')])],
  ['near', (person) => person.tapAll(['+ thing near it'])],
  ['near, there already', (person) => person.tapAll(['Thing near it: exhaust pipe', 'exhaust pipe, 50 mm across'])],
  ['standing', (person) => person.tapAll(['You are at the front. Change it'])],
  ['piece', (person) => person.tapAll(['I have a piece, or the old hose'])],
  ['still to say', (person) => person.tapAll([...straight, 'Back to the sheet'])],
  ['no length', async (person) => {
    await person.type('Thing near it 2', 'one corner: forward', '-400');
    await person.type('Thing near it 2', 'one corner: to the left', '50');
    await person.hear(/^No length works/);
  }],
  ['wrong number', async (person) => {
    await person.type('Spigot A', 'outside diameter', '160');
    await person.wrongWith('Spigot A', 'outside diameter');
  }],
  ['turned round', async (person) => {
    await person.tapAll(['Measure one hose', '16', 'A points right', 'Now place B', ...walk(120, 'right'), 'The rest is in line', 'B points right', 'Show the cut']);
    await person.hear(/Is a direction turned round\?/);
  }],
  ['what helps', async (person) => {
    await person.tapAll(['Measure one hose', '16', 'A points right', 'Now place B', ...walk(60, 'up'), 'The rest is in line', 'B points right', 'Show the cut']);
    await person.hear('What would help');
  }],
  ['two ways to lie', async (person) => {
    await person.tapAll(['Measure one hose', '16', 'A points right', 'Now place B', ...walk(200, 'right'), ...walk(90, 'up'), 'The rest is in line', 'B points left', 'Show the cut']);
    await person.hear('It can lie in more than one way');
  }],
  ['held on the way', async (person) => {
    await person.tap('+ P-clip or hole on the way');
    await person.fillByKeys('On the way 1', [['place: forward', '-60'], ['place: to the left', '150'], ['place: up', '30']]);
    await person.hear(/^P-clip 2\d\d mm from the knife end at A/);
  }],
  ['way wanted', async (person) => {
    await person.sayTheWay();
    await person.hear(/^Held by P-clips here/);
  }],
  ['hot, under a sleeve', async (person) => {
    await person.type('Thing near it 1', 'surface temperature °C, or type °F', '600');
    await person.type('Thing near it 1', 'flat shield before it, at', '20');
    await person.type('What to pour', 'the cooling system holds litres', '8');
    await person.hear(/^Pour in /);
  }],
  ['rocking', async (person) => {
    await person.tapAll(['Measure one hose', '16', 'A points right', 'Now place B', ...walk(200, 'right'), 'The rest is in line', 'B points left', 'Show the cut', 'Say how far the engine rocks']);
  }],
  ['cars kept', async (person) => {
    await person.type('Spigot A', 'how far the hose goes on', '40');
    await person.untilStored('40');
    await person.tap('Cars kept on this phone');
    await person.page.getByRole('button', { name: /^More: / }).click();
    await person.page.getByRole('button', { name: 'Save as a file' }).waitFor();
  }],
  ['line with its photo', async (person) => {
    await person.tapAll(['Show the example car', 'Car']);
    await person.page.getByRole('link', { name: 'heater flow' }).first().click();
    await person.page.getByLabel('choose one that you have').waitFor();
  }],
  ['handed on', async (person) => {
    await person.tap('Show it as a code');
    await person.page.getByRole('img', { name: /QR code/ }).waitFor();
  }],
];

/** To the example car, from the sheet of the example. */
const toCar = async (person) => {
  await person.tap('Show the example car');
  await person.seeCar();
};

/** The screens of the whole car. */
SCREENS.push(
  ['car, nothing listed', (person) => person.tap('The whole car')],
  ['car, plain', (person) => person.tapAll(['The whole car', 'Begin with a plain car'])],
  ['car', toCar],
  ['car, taken away', async (person) => {
    await toCar(person);
    await person.open('bypass hose');
    await person.page.getByRole('button', { name: 'Take it away', exact: true }).last().click();
    await person.hear('Taken away.');
  }],
  ['car, in inches', async (person) => {
    await toCar(person);
    await person.tap('Change the unit');
  }],
  ['line', async (person) => {
    await toCar(person);
    await person.open('steel return line');
  }],
  ['line, to be measured', async (person) => {
    await person.tapAll(['The whole car', 'Begin with a plain car']);
    await person.open('heater flow');
    await person.tapAll(['weeping', 'straight hose only', 'universal hose', 'is in its way']);
    await person.page.getByLabel('From the part').selectOption('+ another part');
    await person.page.getByLabel('its bore').fill('sixteen');
    await person.hear('First the name of the other thing.');
  }],
  ['line that is a passage', async (person) => {
    await toCar(person);
    await person.open('pump to block');
  }],
  ['part', async (person) => {
    await toCar(person);
    await person.open('radiator');
    await person.page.getByRole('group').getByText('bottom').click();
  }],
  ['buy', async (person) => {
    await toCar(person);
    await person.goTo('Buy');
    await person.tap('Copy the list');
    await person.page.getByRole('checkbox').first().click();
  }],
  ['buy, nothing yet', async (person) => {
    await person.tapAll(['The whole car', 'Begin with a plain car']);
    await person.goTo('Buy');
    await person.hear('Not in this list yet');
  }],
  ['fit', async (person) => {
    await toCar(person);
    await person.goTo('Fit');
    await person.page.getByRole('checkbox').first().click();
  }],
  ['fit, sizes not known', async (person) => {
    await person.tapAll(['The whole car', 'Begin with a plain car']);
    await person.open('bypass hose');
    await person.tap('leave it out');
    await person.goTo('Fit');
    await person.hear('Close the open ends');
  }],
  ['fill', async (person) => {
    await toCar(person);
    await person.goTo('Fill');
    await person.page.getByLabel('what was done').fill('hoses renewed');
    await person.tap('Write it down');
    await person.hear(/hoses renewed$/);
  }],
);

/** The small phone of the plan and a larger one. */
export const PHONES = [[360, 640], [412, 915]];
