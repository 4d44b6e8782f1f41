// Large cars for the specs and for measuring: made from the example's hose, no two hoses alike.

/** A car of so many hoses, with a line for each from a head to a pump; B is moved by some tenths of a millimetre each. Invented. */
export function carOf(count, { runs: [run], ...job }) {
  const names = Array.from({ length: count }, (_, i) => `hose ${i + 1}`);
  const moved = (name, i) => {
    const other = structuredClone(run);
    const [x, y, z] = run.to.at_mm;
    return { ...other, name, to: { ...other.to, at_mm: [x - 0.1 * i, y, z] } };
  };
  const spigots = (role) => names.map((name) => ({ name, role }));
  return {
    ...job,
    runs: names.map(moved),
    parts: [
      { name: 'pump', kind: 'pump', spigots: [...spigots('inlet'), { name: 'out', role: 'outlet' }] },
      { name: 'head', kind: 'head', spigots: [...names.map((name) => ({ name })), { name: 'in' }] },
    ],
    lines: [
      ...names.map((name) => ({ name, kind: 'hose', from: { part: 'head', spigot: name }, to: { part: 'pump', spigot: name }, decision: 'universal hose', run: name })),
      { name: 'block', kind: 'passage', from: { part: 'pump', spigot: 'out' }, to: { part: 'head', spigot: 'in' } },
    ],
  };
}
