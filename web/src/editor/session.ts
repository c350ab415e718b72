// The editor's own state as signals: tool, camera, what is picked and drawn, and
// how new things are to be. What is stored lives in the project, not here.

import { computed, signal } from '@preact/signals'
import type { WallBrief } from '../api.ts'
import type { Demands, Opening, Wall } from '../core/plan.ts'
import { arcOf } from '../geometry/arc.ts'
import { edges } from '../geometry/body.ts'
import type { Snap } from '../geometry/snap.ts'
import { snap } from '../geometry/snap.ts'
import type { Box, Point, Segment } from '../geometry/vec.ts'
import { units } from '../preferences.ts'
import { refine, route } from '../route.ts'
import { t } from '../show.ts'
import { notice, plan, selection } from '../state.ts'
import { edit } from '../sync.ts'
import type { Camera, Size } from './camera.ts'
import { fitted, gridStep } from './camera.ts'
import type { Made } from './commands.ts'
import type { Draw } from './draw.ts'
import { start } from './draw.ts'
import { briefOf } from './bodies.ts'
import { build } from './scene.ts'

export type Tool = 'pick' | 'wall' | 'opening' | 'structure' | 'room' | 'paint' | 'underlay'
export const tools: readonly Tool[] = ['pick', 'wall', 'opening', 'structure', 'room', 'paint', 'underlay']

// What is shown of the walls besides where they stand.
export type Show = 'plan' | 'all' | 'fire' | 'sound' | 'structure' | 'moisture' | 'heat'
export const shows: readonly Show[] = ['plan', 'all', 'fire', 'sound', 'structure', 'moisture', 'heat']

export type Picked = { kind: 'opening'; wall: string; index: number } | { kind: 'structure'; id: string } | { kind: 'room'; id: string }

export const level = computed(() => {
  const levels = plan.value?.levels ?? []
  return (levels.find((l) => l.id === route.value.query.level) ?? levels[0])?.id ?? ''
})
export const tool = signal<Tool>('pick')
export const show = signal<Show>('plan')
export const camera = signal<Camera>({ at: [6000, 4000], scale: 0.05 })
export const size = signal<Size>({ width: 800, height: 600 })
export const drawing = signal<Draw>(start([0, 0]))
export const picked = signal<Picked | null>(null)
export const several = signal(false) // on touch: taps add, drags box
export const snapping = signal({ lines: true, grid: true, angles: true })
export const lastSnap = signal<Snap | null>(null)
export const clicked = signal<{ wall: string; u: number } | null>(null)

export const wallLike = signal<Partial<Wall>>({})
export const openingLike = signal<Opening>({ kind: 'door', at: 0, width: 885, height: 2130, leaf_mass: 25 })
export const structureLike = signal<{ kind: string; material: string; thickness: number; width: number; depth: number }>({
  kind: 'wall',
  material: 'concrete',
  thickness: 200,
  width: 300,
  depth: 300,
})
export const brush = signal<Demands>({})

export const scene = computed(() => build(plan.value ?? { nogging: 1, levels: [], walls: [] }, level.value, (w): WallBrief | undefined => briefOf.value(w)))

// Lines to snap to: walls' lines and the edges of structure.
const lines = computed<Segment[]>(() => [...scene.value.walls.filter((w) => !w.wall.via).map((w) => w.wall.line), ...scene.value.structure.flatMap((s) => edges(s.outline))])
const arcs = computed(() => scene.value.walls.flatMap((w) => (w.wall.via ? [{ wall: w.wall.id, arc: arcOf(w.wall) }] : [])))

// The least step of the pen: what is drawn is seldom meant finer than this.
export const penStep = computed(() => Math.min(gridStep(camera.value.scale, units.value === 'metric'), units.value === 'metric' ? 100 : 152.4))

export function snapped(p: Point, from?: Point, without?: ReadonlySet<string>): Snap {
  const s = snapping.value
  const all = without ? lines.value.filter((l) => !scene.value.walls.some((w) => w.wall.line === l && without.has(w.wall.id))) : lines.value
  const curves = arcs.value.flatMap((a) => (a.arc && !without?.has(a.wall) ? [a.arc] : []))
  const input = { lines: s.lines ? all : [], arcs: s.lines ? curves : [], reach: 9 / camera.value.scale, grid: s.grid ? fineGrid() : 0, angles: s.angles ? 15 : 0 }
  return snap(p, from ? { ...input, from } : input)
}

// Zoomed out, a coarse grid; zoomed in, down to 5 mm or 1/4 inch.
export function fineGrid(): number {
  const steps = units.value === 'metric' ? [5, 10, 50, 100] : [6.35, 25.4, 76.2, 152.4]
  return steps.find((s) => s * camera.value.scale >= 3) ?? (steps.at(-1) as number)
}

export function run(made: Made | { why: string }): boolean {
  if ('why' in made) {
    notice.value = { text: t(made.why), kind: 'error' }
    return false
  }
  if (made.changes.length === 0) return false
  edit(made)
  if (made.select) choose(made.select)
  return true
}

export function choose(walls: readonly string[]): void {
  selection.value = walls
  picked.value = null
  refine({ wall: walls.length === 1 ? walls[0] : undefined })
}

export function choosePicked(p: Picked): void {
  selection.value = p.kind === 'opening' ? [p.wall] : []
  picked.value = p
}

export function toggle(wall: string): void {
  const has = selection.value.includes(wall)
  choose(has ? selection.value.filter((w) => w !== wall) : [...selection.value, wall])
}

export function use(next: Tool): void {
  tool.value = next
  drawing.value = { ...drawing.value, chain: [], typed: '', end: null, curved: next === 'wall' && drawing.value.curved }
  lastSnap.value = null
}

export function fit(box: Box = scene.value.box): void {
  camera.value = fitted(box, size.value)
}

// The third point of a curved line keeps to no angle from its start.
export const penFrom = (): Point | undefined => (drawing.value.end ? undefined : drawing.value.chain.at(-1))

export const say = t
