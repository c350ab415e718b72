// The model of walls as the server sends it, and as the view in space uses it: parts
// as blocks and prisms in their walls' own coordinates, and walls' places in the
// project. Pure; lengths are millimetres.

type Shape = number[] // [u0, z0, u1, z1] of a rectangle, or u, z, u, z … of an outline
type Terse = [id: string, layer: number, product: number, what: number, v: [number, number], ...shapes: Shape[]]

export interface Model {
  layers: string[]
  products: { id: string; name: string; kind: 'steel' | 'board' | 'fill' | 'bracket'; shape?: string }[] | null
  whats: string[]
  walls: { id: string; base: number; at: [number, number, number, number]; arc?: [number, number, number, number, number]; parts: Terse[] }[]
}

export interface Block {
  u0: number
  u1: number
  z0: number
  z1: number
}

export interface Piece {
  wall: string
  part: string
  layer: string
  what: string
  kind: string
  shape: string // of a profile: stud, track …
  place: Place
  v: [number, number]
  outlines: number[][] // the outer first; u, z, u, z …
  blocks: Block[] | null // what it is made of, where all its edges are upright or level
}

// Where a wall's own u and v lie in the plan.
export interface Place {
  base: number
  curved: boolean
  at(u: number, v: number): [x: number, y: number]
  dir(u: number): [x: number, y: number]
}

function straight(base: number, [x, y, dx, dy]: [number, number, number, number]): Place {
  return { base, curved: false, at: (u, v) => [x + u * dx - v * dy, y + u * dy + v * dx], dir: () => [dx, dy] }
}

// The axis of a curved wall: u runs along it, v to the left of it.
function curved(base: number, [cx, cy, radius, from, sweep]: [number, number, number, number, number]): Place {
  const turn = Math.sign(sweep)
  const angle = (u: number) => from + (turn * u) / radius
  return {
    base,
    curved: true,
    at: (u, v) => [cx + (radius - turn * v) * Math.cos(angle(u)), cy + (radius - turn * v) * Math.sin(angle(u))],
    dir: (u) => [-turn * Math.sin(angle(u)), turn * Math.cos(angle(u))],
  }
}

export function pieces(m: Model): Piece[] {
  const list: Piece[] = []
  for (const w of m.walls) {
    const place = w.arc ? curved(w.base, w.arc) : straight(w.base, w.at)
    for (const [part, layer, product, what, v, ...shapes] of w.parts) {
      const p = m.products?.[product]
      const outlines = shapes.map((s) => (s.length === 4 ? rectangle(s as [number, number, number, number]) : s))
      list.push({
        wall: w.id, part, layer: m.layers[layer] ?? '', what: m.whats[what] ?? '', kind: p?.kind ?? 'board', shape: p?.shape ?? '', place, v, outlines,
        blocks: blocksOf(outlines, place.curved),
      })
    }
  }
  return list
}

function rectangle([u0, z0, u1, z1]: [number, number, number, number]): number[] {
  return [u0, z0, u1, z0, u1, z1, u0, z1]
}

const strip = 150 // mm of a curved wall that are drawn straight

// Cuts an outline with holes into blocks at each of its upright edges; on curved walls
// also into narrow strips, whose slopes become steps. Null where a straight wall's
// piece has sloping edges: it is drawn as a prism.
export function blocksOf(outlines: readonly number[][], inStrips: boolean): Block[] | null {
  if (!inStrips && !outlines.every(square)) return null
  const us = [...new Set(outlines.flatMap((o) => o.filter((_, i) => i % 2 === 0)))].sort((a, b) => a - b)
  const list: Block[] = []
  for (const [u0, u1] of stretches(us, inStrips)) {
    const zs = crossings(outlines, (u0 + u1) / 2)
    for (let i = 0; i + 1 < zs.length; i += 2) list.push({ u0, u1, z0: zs[i] ?? 0, z1: zs[i + 1] ?? 0 })
  }
  return list
}

function square(o: readonly number[]): boolean {
  for (let i = 0; i < o.length; i += 2) {
    const j = (i + 2) % o.length
    if (o[i] !== o[j] && o[i + 1] !== o[j + 1]) return false
  }
  return true
}

function stretches(us: readonly number[], inStrips: boolean): [number, number][] {
  const list: [number, number][] = []
  for (let i = 0; i + 1 < us.length; i++) {
    const [from, to] = [us[i] ?? 0, us[i + 1] ?? 0]
    const n = inStrips ? Math.max(1, Math.ceil((to - from) / strip)) : 1
    for (let k = 0; k < n; k++) list.push([from + ((to - from) * k) / n, from + ((to - from) * (k + 1)) / n])
  }
  return list
}

// Heights at which the upright line at u crosses the outlines, ascending.
function crossings(outlines: readonly number[][], u: number): number[] {
  const zs: number[] = []
  for (const o of outlines) {
    for (let i = 0; i < o.length; i += 2) {
      const j = (i + 2) % o.length
      const [ua = 0, za = 0, ub = 0, zb = 0] = [o[i], o[i + 1], o[j], o[j + 1]]
      if (ua > u !== ub > u) zs.push(za + ((u - ua) / (ub - ua)) * (zb - za))
    }
  }
  return zs.sort((a, b) => a - b)
}

// The layers from face A to face B, in the order in which a wall is uncovered.
export function peeling(layers: readonly string[]): string[] {
  const depth = (l: string): number => {
    const m = /^([ab])(\d+)$/.exec(l)
    if (m) return (m[1] === 'a' ? -10 : 10) * Number(m[2])
    return { trim: -5, fill: -1, frame: 0 }[l] ?? 0
  }
  return [...layers].sort((x, y) => depth(x) - depth(y))
}

export function grouped<T>(list: readonly T[], by: (x: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>()
  for (const x of list) {
    const group = groups.get(by(x))
    if (group) group.push(x)
    else groups.set(by(x), [x])
  }
  return groups
}
