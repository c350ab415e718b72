// Drawings for tests, written as the least DXF that R12 allows.

const groups = (...list) => {
  let text = ''
  for (let i = 0; i < list.length; i += 2) text += `${list[i]}\n${list[i + 1]}\n`
  return text
}

export const line = (layer, x0, y0, x1, y1) => groups(0, 'LINE', 8, layer, 10, x0, 20, y0, 11, x1, 21, y1)
export const arc = (layer, x, y, r, from, to) => groups(0, 'ARC', 8, layer, 10, x, 20, y, 40, r, 50, from, 51, to)
export const text = (layer, x, y, words) => groups(0, 'TEXT', 8, layer, 10, x, 20, y, 40, 200, 1, words)

export const file = (entities, units) =>
  (units === undefined ? '' : groups(0, 'SECTION', 2, 'HEADER', 9, '$INSUNITS', 70, units, 0, 'ENDSEC')) + groups(0, 'SECTION', 2, 'ENTITIES') + entities.join('') + groups(0, 'ENDSEC', 0, 'EOF')

/** Two rooms, 8.2 by 4.2 m, of 100 mm walls, with a door in the wall between them, words in them and a table, in a unit of so many mm. */
export function rooms({ mm = 1, units, walls = 'A-WALL' } = {}) {
  const l = (layer, ...at) => line(layer, ...at.map((v) => v / mm))
  return file(
    [
      l(walls, 0, 0, 8200, 0), l(walls, 8200, 0, 8200, 4200), l(walls, 8200, 4200, 0, 4200), l(walls, 0, 4200, 0, 0),
      l(walls, 100, 100, 4000, 100), l(walls, 4000, 100, 4000, 1500), l(walls, 4000, 2400, 4000, 4100), l(walls, 4000, 4100, 100, 4100), l(walls, 100, 4100, 100, 100),
      l(walls, 4100, 100, 8100, 100), l(walls, 8100, 100, 8100, 4100), l(walls, 8100, 4100, 4100, 4100), l(walls, 4100, 4100, 4100, 2400), l(walls, 4100, 1500, 4100, 100),
      l(walls, 4000, 1500, 4100, 1500), l(walls, 4000, 2400, 4100, 2400),
      arc('A-DOOR', 4100 / mm, 1500 / mm, 900 / mm, 0, 90), l('A-DOOR', 4100, 1500, 5000, 1500),
      l('FURN', 1000, 3000, 2600, 3000), l('FURN', 2600, 3000, 2600, 3700), l('FURN', 2600, 3700, 1000, 3700), l('FURN', 1000, 3700, 1000, 3000),
      l('FURN', 6000, 2000, 7000, 2000), l('FURN', 6000, 2120, 7000, 2120),
      text('A-TEXT', 1500 / mm, 2000 / mm, 'OFFICE'), text('A-TEXT', 6000 / mm, 1000 / mm, 'STORE'),
    ],
    units,
  )
}
