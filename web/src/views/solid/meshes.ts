// Turns pieces into what is drawn: one instanced mesh for each layer and kind of
// cross-section, one mesh for what has sloping edges, lines along edges. Metres, y up.

import {
  BoxGeometry, BufferGeometry, Color, Float32BufferAttribute, Group, InstancedMesh, LineBasicMaterial, LineSegments, Matrix4, Mesh,
  MeshLambertMaterial, Object3D, ShapeUtils, Vector2, Vector3,
} from 'three'
import { mergeGeometries } from 'three/examples/jsm/utils/BufferGeometryUtils.js'
import type { MeshLambertMaterialParameters } from 'three'
import { grouped } from './model.ts'
import type { Block, Piece } from './model.ts'

const mm = 0.001

export interface Hues {
  steel: string
  fill: string
  bracket: string
  inner: string // boards against the frame
  outer: string // boards further out
  edge: string
}

export interface Built {
  layers: Map<string, Group>
  pieceAt(object: Object3D, hit: { instanceId?: number; faceIndex?: number | null }): Piece | null
}

const lined = 25_000 // pieces up to which edges and the shapes of profiles are drawn

export function build(list: readonly Piece[], hues: Hues): Built {
  const layers = new Map<string, Group>()
  const owners = new Map<Object3D, Piece[]>()
  const groups = grouped(list, (p) => p.layer)
  const fine = list.length <= lined
  for (const [layer, members] of groups) {
    const group = new Group()
    group.name = layer
    for (const section of grouped(members.filter((p) => p.blocks !== null), (p) => (fine ? sectionOf(p) : p.kind)).values()) {
      const mesh = instanced(section, hues, fine)
      owners.set(mesh.mesh, mesh.owners)
      group.add(mesh.mesh)
    }
    const sloping = members.filter((p) => p.blocks === null)
    if (sloping.length > 0) {
      const { mesh, faces } = prisms(sloping, hues)
      owners.set(mesh, faces)
      group.add(mesh)
    }
    if (fine) group.add(edges(members, hues.edge))
    layers.set(layer, group)
  }
  return {
    layers,
    pieceAt: (object, hit) => owners.get(object)?.[hit.instanceId ?? hit.faceIndex ?? -1] ?? null,
  }
}

// Faces lie a little behind their edges, which else would show in parts only.
function surface(more: MeshLambertMaterialParameters = {}): MeshLambertMaterial {
  return new MeshLambertMaterial({ polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1, ...more })
}

// Steel of one cross-section shares its geometry, as do all boards.
function sectionOf(p: Piece): string {
  if (p.kind !== 'steel' || p.place.curved) return p.kind
  const b = p.blocks?.[0]
  if (!b) return p.kind
  const upright = b.z1 - b.z0 > b.u1 - b.u0
  return `steel ${upright} ${Math.round(upright ? b.u1 - b.u0 : b.z1 - b.z0)} ${Math.round(p.v[1] - p.v[0])} ${p.what === 'soffit track' || p.what === 'sill'}`
}

function instanced(list: readonly Piece[], hues: Hues, fine: boolean): { mesh: InstancedMesh; owners: Piece[] } {
  const head = list[0]
  const geometry = fine && head && head.kind === 'steel' && !head.place.curved ? profile(head) : new BoxGeometry(1, 1, 1)
  const all = list.flatMap((p) => (p.blocks ?? []).map((b) => ({ p, b })))
  const mesh = new InstancedMesh(geometry, surface(), all.length)
  all.forEach(({ p, b }, i) => {
    mesh.setMatrixAt(i, matrixOf(p, b))
    mesh.setColorAt(i, new Color(hueOf(p, hues)))
  })
  return { mesh, owners: all.map((x) => x.p) }
}

export function hueOf(p: Piece, h: Hues): string {
  if (p.kind === 'board') return p.layer.endsWith('1') || p.layer === 'trim' || p.layer === 'frame' ? h.inner : h.outer
  return h[p.kind as 'steel'] ?? h.steel
}

// Puts the unit block into the place of a block of a piece.
export function matrixOf(p: Piece, b: Block): Matrix4 {
  const u = (b.u0 + b.u1) / 2
  const v = (p.v[0] + p.v[1]) / 2
  const [x, y] = p.place.at(u, v)
  const [dx, dy] = p.place.dir(u)
  // On curves blocks of the outer layers are stretched to their own radius.
  const [xa, ya] = p.place.at(b.u0, v)
  const [xb, yb] = p.place.at(b.u1, v)
  const long = p.place.curved ? Math.hypot(xb - xa, yb - ya) : b.u1 - b.u0
  const along = new Vector3(dx, 0, -dy)
  const across = new Vector3(-dy, 0, -dx)
  return new Matrix4()
    .makeBasis(along, new Vector3(0, 1, 0), across)
    .scale(new Vector3(long, b.z1 - b.z0, p.v[1] - p.v[0]).multiplyScalar(mm))
    .setPosition(x * mm, (p.place.base + (b.z0 + b.z1) / 2) * mm, -y * mm)
}

// A thin-walled profile in the unit block: web and two flanges. Uprights open along
// u, tracks up or down.
function profile(p: Piece): BufferGeometry {
  const b = p.blocks?.[0] ?? { u0: 0, u1: 1, z0: 0, z1: 1 }
  const upright = b.z1 - b.z0 > b.u1 - b.u0
  const thin = 2.5 // mm: sheet is thinner, and would not show
  const wide = Math.max(upright ? b.u1 - b.u0 : b.z1 - b.z0, thin * 2)
  const deep = Math.max(p.v[1] - p.v[0], thin * 2)
  const [web, flange] = [thin / wide, thin / deep]
  const at = p.what === 'soffit track' || p.what === 'sill' ? 0.5 - web / 2 : web / 2 - 0.5
  const parts = upright
    ? [new BoxGeometry(web, 1, 1).translate(web / 2 - 0.5, 0, 0), ...[-1, 1].map((s) => new BoxGeometry(1, 1, flange).translate(0, 0, s * (0.5 - flange / 2)))]
    : [new BoxGeometry(1, web, 1).translate(0, at, 0), ...[-1, 1].map((s) => new BoxGeometry(1, 1, flange).translate(0, 0, s * (0.5 - flange / 2)))]
  return mergeGeometries(parts)
}

function prisms(list: readonly Piece[], hues: Hues): { mesh: Mesh; faces: Piece[] } {
  const positions: number[] = []
  const colours: number[] = []
  const faces: Piece[] = []
  for (const p of list) {
    const before = positions.length
    prism(p, positions)
    const c = new Color(hueOf(p, hues))
    for (let i = before; i < positions.length; i += 3) colours.push(c.r, c.g, c.b)
    for (let i = before; i < positions.length; i += 9) faces.push(p)
  }
  const g = new BufferGeometry()
  g.setAttribute('position', new Float32BufferAttribute(positions, 3))
  g.setAttribute('color', new Float32BufferAttribute(colours, 3))
  g.computeVertexNormals()
  return { mesh: new Mesh(g, surface({ vertexColors: true, side: 2 })), faces }
}

const points = (o: readonly number[]): Vector2[] => Array.from({ length: o.length / 2 }, (_, i) => new Vector2(o[2 * i], o[2 * i + 1]))

// Both faces of a piece and its rims, as triangles.
function prism(p: Piece, out: number[]): void {
  const [outer = [], ...holes] = p.outlines.map(points)
  const corners = [outer, ...holes].flat()
  for (const [a = 0, b = 0, c = 0] of ShapeUtils.triangulateShape(outer, holes)) {
    for (const i of [a, b, c]) push(p, corners[i], p.v[1], out)
    for (const i of [a, c, b]) push(p, corners[i], p.v[0], out)
  }
  for (const ring of [outer, ...holes]) {
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length]
      for (const [at, v] of [[a, p.v[0]], [b, p.v[0]], [b, p.v[1]], [a, p.v[0]], [b, p.v[1]], [a, p.v[1]]] as const) push(p, at, v, out)
    })
  }
}

function push(p: Piece, at: Vector2 | undefined, v: number, out: number[]): void {
  const [x, y] = p.place.at(at?.x ?? 0, v)
  out.push(x * mm, (p.place.base + (at?.y ?? 0)) * mm, -y * mm)
}

function edges(list: readonly Piece[], hue: string): LineSegments {
  const out: number[] = []
  for (const p of list) {
    for (const ring of p.outlines.map(points)) {
      ring.forEach((a, i) => {
        const b = ring[(i + 1) % ring.length]
        for (const v of p.v) {
          push(p, a, v, out)
          push(p, b, v, out)
        }
        push(p, a, p.v[0], out)
        push(p, a, p.v[1], out)
      })
    }
  }
  const g = new BufferGeometry()
  g.setAttribute('position', new Float32BufferAttribute(out, 3))
  const lines = new LineSegments(g, new LineBasicMaterial({ color: hue, transparent: true, opacity: 0.45 }))
  lines.raycast = () => undefined // edges are not pointed at
  return lines
}

// A piece by itself, to show which one is picked.
export function alone(p: Piece, hue: string): Mesh {
  const out: number[] = []
  for (const b of p.blocks ?? []) prism({ ...p, outlines: [[b.u0, b.z0, b.u1, b.z0, b.u1, b.z1, b.u0, b.z1]] }, out)
  if (p.blocks === null) prism(p, out)
  const g = new BufferGeometry()
  g.setAttribute('position', new Float32BufferAttribute(out, 3))
  g.computeVertexNormals()
  const mesh = new Mesh(g, new MeshLambertMaterial({ color: hue, emissive: hue, emissiveIntensity: 0.4, transparent: true, opacity: 0.75, depthTest: false, side: 2 }))
  mesh.raycast = () => undefined
  mesh.renderOrder = 1
  return mesh
}
