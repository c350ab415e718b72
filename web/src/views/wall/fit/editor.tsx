// The elevation of one face, to place and move what is on the wall: by mouse, pen,
// finger or keyboard. It shows what the plan says, at once; what the server finds
// about it follows.

import { useEffect, useRef, useState } from 'preact/hooks'
import type { Wall } from '../../../core/plan.ts'
import { globalKey } from '../../../editor/keys.ts'
import { wallLength } from '../../../geometry/body.ts'
import type { Point } from '../../../geometry/vec.ts'
import { lengthUnit, t } from '../../../show.ts'
import { plan } from '../../../state.ts'
import type { Frame } from './face.ts'
import { fitting, height, runsBack, stepped, toPixels, toPlace, width } from './face.ts'
import { Boxes, Fixings, Heights, Openings, PathMark, Pipes, refOf } from './marks.tsx'
import { FitPanel } from './panel.tsx'
import { clearOf, face, finishPipe, heightsOf, move, path, pick, picked, place, placeMiddle, remove, step, tool, tools, use } from './state.ts'
import type { Face, Ref } from './things.ts'
import { allOf, listOf, movedBy, profileOf, sameRef } from './things.ts'

interface Drag {
  ref: Ref
  from: Point
  by: Point
}

export function FitEditor({ wall: id }: { wall: string }) {
  const wall = plan.value?.walls.find((w) => w.id === id)
  useEffect(() => () => (use('pick'), pick(null)), [id])
  useEffect(() => {
    const undone = (e: KeyboardEvent) => {
      const field = e.target instanceof HTMLInputElement || e.target instanceof HTMLSelectElement
      if (!field && !e.defaultPrevented && globalKey(e)) e.preventDefault()
    }
    addEventListener('keydown', undone)
    return () => removeEventListener('keydown', undone)
  }, [])
  if (!wall) return null
  return (
    <>
      <Stage wall={wall} />
      <FitPanel wall={wall} />
    </>
  )
}

function Stage({ wall }: { wall: Wall }) {
  const pane = useRef<HTMLDivElement>(null)
  const svg = useRef<SVGSVGElement>(null)
  const size = usePane(pane)
  const [zoom, setZoom] = useState(1)
  const [drag, setDrag] = useState<Drag | null>(null)
  const [pen, setPen] = useState<Point | null>(null)
  const shown = drag ? movedBy(wall, drag.ref, drag.by) : wall
  const profile = profileOf(shown, clearOf(wall))
  const frame: Frame = frameOf(wall, profile, size, zoom)

  const at = (e: PointerEvent): Point => {
    const r = (svg.current as SVGSVGElement).getBoundingClientRect()
    return toPlace(frame, [e.clientX - r.left, e.clientY - r.top])
  }
  const snapped = (p: Point, but: Ref | null = null) => stepped(p, step.value, heightsOf(wall, but), 6 / frame.scale)
  const down = (e: PointerEvent) => {
    const ref = refOf(e)
    if (e.button !== 0 || (tool.value !== 'pick' && !(tool.value === 'heights' && ref?.kind === 'heights'))) return
    if (!ref) return pick(null)
    // A point of a pipe is taken by itself once the pipe is picked.
    pick(ref)
    setDrag({ ref, from: at(e), by: [0, 0] })
    svg.current?.setPointerCapture(e.pointerId)
  }
  const moving = (e: PointerEvent) => {
    const p = at(e)
    setPen(tool.value === 'pick' ? null : snapped(p))
    if (drag) setDrag({ ...drag, by: dragged(wall, drag, p, (q) => snapped(q, drag.ref)) })
  }
  const up = (e: PointerEvent) => {
    if (drag) {
      move(wall, drag.ref, drag.by)
      setDrag(null)
    } else if (tool.value !== 'pick' && e.button === 0) place(wall, snapped(at(e)))
  }
  const key = (e: KeyboardEvent) => {
    if (keyed(wall, frame.back, e)) e.preventDefault()
  }
  return (
    <div class="fit">
      <Bar zoom={zoom} setZoom={setZoom} />
      <div ref={pane} class="fit-pane">
        <svg
          ref={svg} class={`fit-face tool-${tool.value}`} tabindex={0} role="application" aria-label={`${t('fit.face', { face: face.value.toUpperCase(), wall: wall.id })}. ${t('fit.keys')}`}
          width={width(frame)} height={height(frame)} data-scale={frame.scale} data-high={frame.high} data-back={String(frame.back)} data-length={frame.length}
          onPointerDown={down} onPointerMove={moving} onPointerUp={up} onPointerCancel={() => setDrag(null)} onPointerLeave={() => setPen(null)} onKeyDown={key}
        >
          <Ground wall={wall} profile={profile} frame={frame} />
          <Openings wall={shown} frame={frame} />
          <Pipes wall={shown} frame={frame} />
          <Fixings wall={shown} frame={frame} />
          <Boxes wall={shown} frame={frame} />
          <Heights wall={shown} frame={frame} />
          <PathMark points={pen && tool.value === 'pipes' && path.value.length > 0 ? [...path.value, pen] : path.value} frame={frame} />
          <Figures at={placeOf(shown, drag?.ref ?? picked.value) ?? pen} frame={frame} />
        </svg>
      </div>
    </div>
  )
}

function frameOf(wall: Wall, profile: readonly { height: number }[], size: { width: number; height: number }, zoom: number): Frame {
  const length = wallLength(wall)
  const high = Math.max(...profile.map((p) => p.height), 1000) + 150
  const low = Math.min(0, wall.base ?? 0) - 50
  return { length, low, high, scale: fitting(length, high - low, size) * zoom, back: runsBack(face.value) }
}

// How far a thing goes when the pointer has gone from one place to another: so that
// it comes to lie on a whole step or at the height of others.
function dragged(wall: Wall, d: Drag, p: Point, snapped: (p: Point) => Point): Point {
  const start = placeOf(wall, d.ref)
  if (!start) return [0, 0]
  const to = snapped([start[0] + p[0] - d.from[0], start[1] + p[1] - d.from[1]])
  return [to[0] - start[0], to[1] - start[1]]
}

// The place that a thing's figures give.
function placeOf(w: Wall, ref: Ref | null): Point | null {
  if (!ref) return null
  if (ref.kind === 'pipes') return listOf(w, 'pipes')[ref.index]?.path[ref.point ?? 0] ?? null
  const x = (listOf(w, ref.kind) as { at: number; height?: number }[])[ref.index]
  return x ? [x.at, x.height ?? 0] : null
}

function Bar({ zoom, setZoom }: { zoom: number; setZoom: (z: number) => void }) {
  return (
    <div class="fit-bar">
      <div class="group" role="group" aria-label={t('fit.side')}>
        {(['a', 'b'] as Face[]).map((f) => (
          <button aria-pressed={face.value === f} onClick={() => (face.value = f)}>{t('fit.sideof', { face: f.toUpperCase() })}</button>
        ))}
      </div>
      <div class="group" role="group" aria-label={t('fit.tools')}>
        {tools.map((x) => (
          <button aria-pressed={tool.value === x} onClick={() => use(x)}>{t(`fit.tool.${x}`)}</button>
        ))}
      </div>
      <div class="group" role="group" aria-label={t('plan.zoom')}>
        <button disabled={zoom <= 1} onClick={() => setZoom(Math.max(1, zoom / 1.5))} aria-label={t('wall.zoom.out')}>−</button>
        <button onClick={() => setZoom(1)}>{t('wall.zoom.fit')}</button>
        <button onClick={() => setZoom(Math.min(12, zoom * 1.5))} aria-label={t('wall.zoom.in')}>+</button>
      </div>
    </div>
  )
}

// The wall's outline, the floor, and a metre of height and length after another.
function Ground({ wall, profile, frame }: { wall: Wall; profile: readonly { at: number; height: number }[]; frame: Frame }) {
  const foot = wall.base ?? 0
  const outline: Point[] = [[0, foot], ...profile.map((p) => [Math.min(Math.max(p.at, 0), frame.length), p.height] as const), [frame.length, foot]]
  const [left, right] = frame.back ? ['fit.end', 'fit.start'] : ['fit.start', 'fit.end']
  const [, y] = toPixels(frame, [0, 0])
  const metres = Array.from({ length: Math.floor(frame.length / 1000) + 1 }, (_, i) => i * 1000)
  return (
    <g class="ground">
      <polygon points={outline.map((p) => toPixels(frame, p).join(',')).join(' ')} />
      {metres.map((u) => {
        const [x] = toPixels(frame, [u, 0])
        return <path class="metre" d={`M${x} ${y}v5`} />
      })}
      <path class="floor" d={`M0 ${y}H${width(frame)}`} />
      <text x={4} y={y + 20}>{t(left)}</text>
      <text x={width(frame) - 4} y={y + 20} class="far-end">{t(right)}</text>
    </g>
  )
}

// Distance from the start and height above the floor of what is in hand.
function Figures({ at, frame }: { at: Point | null; frame: Frame }) {
  if (!at) return null
  const [x, y] = toPixels(frame, at)
  const [x0, y0] = toPixels(frame, [0, 0])
  const left = x > width(frame) / 2
  return (
    <g class="figures" aria-hidden="true">
      <path d={`M${x} ${y}V${y0}M${x} ${y}H${x0}`} />
      <text x={(x + x0) / 2} y={y - 4}>{lengthUnit(at[0])}</text>
      <text x={x + (left ? -6 : 6)} y={(y + y0) / 2} class={left ? 'far-end' : 'near-end'}>{lengthUnit(at[1])}</text>
    </g>
  )
}

const arrows: Record<string, Point> = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }

// The keyboard on the elevation; true if the key was of use.
function keyed(wall: Wall, back: boolean, e: KeyboardEvent): boolean {
  if (e.ctrlKey || e.metaKey || e.altKey) return false
  const arrow = arrows[e.key]
  const ref = picked.value
  if (arrow) {
    const far = step.value * (e.shiftKey ? 10 : 1)
    if (ref) move(wall, ref, [arrow[0] * far * (back ? -1 : 1), arrow[1] * far])
    return ref !== null
  }
  if (e.key === 'Enter') tool.value === 'pipes' && path.value.length > 1 ? finishPipe(wall) : placeMiddle(wall)
  else if (e.key === 'Escape') path.value.length > 0 ? (path.value = []) : tool.value !== 'pick' ? use('pick') : pick(null)
  else if (e.key === 'Backspace' && path.value.length > 0) path.value = path.value.slice(0, -1)
  else if ((e.key === 'Delete' || e.key === 'Backspace') && ref) remove(wall, ref)
  else if (e.key === 'PageDown' || e.key === 'PageUp') next(wall, e.key === 'PageDown' ? 1 : -1)
  else if (e.key.toLowerCase() === 's') face.value = face.value === 'a' ? 'b' : 'a'
  else {
    const to = { p: 'pick', b: 'boxes', f: 'fixings', i: 'pipes', h: 'heights' }[e.key.toLowerCase()]
    if (!to) return false
    use(to as (typeof tools)[number])
  }
  return true
}

function next(wall: Wall, by: number): void {
  const all = allOf(wall)
  if (all.length === 0) return
  const now = all.findIndex((r) => sameRef(r, picked.value && { kind: picked.value.kind, index: picked.value.index }))
  const to = all[(now + by + all.length) % all.length] ?? null
  pick(to)
  const on = to && (listOf(wall, to.kind) as { face?: string }[])[to.index]?.face
  if (on) face.value = on as Face
}

function usePane(pane: { current: HTMLDivElement | null }): { width: number; height: number } {
  const [size, setSize] = useState({ width: 700, height: 400 })
  useEffect(() => {
    if (!pane.current) return
    const watch = new ResizeObserver(([e]) => e && setSize({ width: e.contentRect.width - 4, height: e.contentRect.height - 4 }))
    watch.observe(pane.current)
    return () => watch.disconnect()
  }, [])
  return size
}

