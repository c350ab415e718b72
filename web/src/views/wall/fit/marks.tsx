// How things of a wall look on its elevation.

import type { Wall } from '../../../core/plan.ts'
import type { Point } from '../../../geometry/vec.ts'
import { word } from '../../../show.ts'
import type { Frame } from './face.ts'
import { toPixels } from './face.ts'
import { about, face, hangsAt, picked } from './state.ts'
import type { Kind, Ref } from './things.ts'
import { listOf, sameRef } from './things.ts'

const gang = 71 // mm from box to box of several side by side, common practice

interface Props {
  wall: Wall
  frame: Frame
}

// The class and data that tell a thing's state and who it is.
function told(wall: Wall, ref: Ref, other = false) {
  const wrong = about(wall, ref).some((f) => f.severity === 'error' || f.severity === 'warning')
  const now = sameRef(picked.value, ref) || (picked.value?.kind === ref.kind && picked.value.index === ref.index && ref.point === undefined)
  return { class: ['thing', now ? 'picked' : '', wrong ? 'wrong' : '', other ? 'other' : ''].filter(Boolean).join(' '), 'data-thing': [ref.kind, ref.index, ref.point].filter((x) => x !== undefined).join(':') }
}

export function refOf(e: Event): Ref | null {
  const at = e.target instanceof Element ? e.target.closest('[data-thing]')?.getAttribute('data-thing')?.split(':') : undefined
  if (!at) return null
  const point = at[2] === undefined ? {} : { point: Number(at[2]) }
  return { kind: at[0] as Kind, index: Number(at[1]), ...point }
}

export function Openings({ wall, frame }: Props) {
  return (
    <g class="holes">
      {(wall.openings ?? []).map((o) => {
        const [p, q] = [toPixels(frame, [o.at, o.sill ?? 0]), toPixels(frame, [o.at + o.width, (o.sill ?? 0) + o.height])]
        const x = Math.min(p[0], q[0])
        return (
          <g>
            <rect x={x} y={q[1]} width={Math.abs(q[0] - p[0])} height={p[1] - q[1]} />
            <text x={x + Math.abs(q[0] - p[0]) / 2} y={(p[1] + q[1]) / 2}>{o.id ?? ''}</text>
          </g>
        )
      })}
    </g>
  )
}

export function Boxes({ wall, frame }: Props) {
  return (
    <>
      {listOf(wall, 'boxes').map((b, index) => {
        const [x, y] = toPixels(frame, [b.at, b.height])
        const n = b.gangs || 1
        const size = Math.max(gang * frame.scale, 9)
        return (
          <g {...told(wall, { kind: 'boxes', index }, b.face !== face.value)}>
            <rect class="reach" x={x - (size * n) / 2 - 8} y={y - size / 2 - 8} width={size * n + 16} height={size + 16} />
            {Array.from({ length: n }, (_, i) => <BoxMark kind={b.kind ?? 'other'} x={x + (i - (n - 1) / 2) * size} y={y} size={size} />)}
          </g>
        )
      })}
    </>
  )
}

// A socket is round, a switch slants, a data box is a square in a square.
function BoxMark({ kind, x, y, size }: { kind: string; x: number; y: number; size: number }) {
  const r = size / 2 - 1
  return (
    <>
      <rect class="body" x={x - r} y={y - r} width={2 * r} height={2 * r} rx="1.5" />
      {kind === 'socket' && <circle class="sign" cx={x} cy={y} r={r * 0.6} />}
      {kind === 'switch' && <path class="sign" d={`M${x - r * 0.5} ${y + r * 0.5}L${x + r * 0.5} ${y - r * 0.5}`} />}
      {kind === 'data' && <rect class="sign" x={x - r * 0.45} y={y - r * 0.45} width={r * 0.9} height={r * 0.9} />}
    </>
  )
}

// A fixing is a bar at the line that it hangs by; one that stands on the floor
// reaches down to it.
export function Fixings({ wall, frame }: Props) {
  return (
    <>
      {listOf(wall, 'fixings').map((f, index) => {
        const top = hangsAt(f)
        const foot = f.kind === 'wc' || f.kind === 'sanitary_frame' ? 0 : top - 90
        const [p, q] = [toPixels(frame, [f.at, top]), toPixels(frame, [f.at + (f.width ?? 0), foot])]
        const [x, wide] = [Math.min(p[0], q[0]), Math.max(Math.abs(q[0] - p[0]), 4)]
        const tall = Math.max(q[1] - p[1], 4)
        return (
          <g {...told(wall, { kind: 'fixings', index }, f.face !== face.value)}>
            <rect class="reach" x={x - 5} y={p[1] - 8} width={wide + 10} height={tall + 16} />
            <rect class="body" x={x} y={p[1]} width={wide} height={tall} rx="2" />
            <text x={x + wide / 2} y={p[1] - 5}>{word('fixing', f.kind)}</text>
          </g>
        )
      })}
    </>
  )
}

const polyline = (frame: Frame, points: readonly Point[]) => points.map((p) => toPixels(frame, p).join(',')).join(' ')

export function Pipes({ wall, frame }: Props) {
  return (
    <>
      {listOf(wall, 'pipes').map((p, index) => (
        <g {...told(wall, { kind: 'pipes', index })}>
          <polyline class="reach line" points={polyline(frame, p.path)} />
          <polyline class={`run service-${p.service ?? 'water'}`} points={polyline(frame, p.path)} style={`stroke-width:${Math.max(p.diameter * frame.scale, 2.5)}px`} />
          {picked.value?.kind === 'pipes' && picked.value.index === index && p.path.map((at, point) => <Handle at={toPixels(frame, at)} told={told(wall, { kind: 'pipes', index, point })} />)}
        </g>
      ))}
    </>
  )
}

export function PathMark({ points, frame }: { points: readonly Point[]; frame: Frame }) {
  if (points.length === 0) return null
  return (
    <g class="thing picked">
      <polyline class="run" points={polyline(frame, points)} style="stroke-width:2.5px" />
      {points.map((p) => <Handle at={toPixels(frame, p)} />)}
    </g>
  )
}

export function Heights({ wall, frame }: Props) {
  return (
    <>
      {listOf(wall, 'heights').map((h, index) => <Handle at={toPixels(frame, [h.at, h.height])} told={told(wall, { kind: 'heights', index })} />)}
    </>
  )
}

function Handle({ at: [x, y], told: more = {} }: { at: Point; told?: object }) {
  return (
    <g {...more}>
      <circle class="reach" cx={x} cy={y} r="14" />
      <circle class="handle" cx={x} cy={y} r="5" />
    </g>
  )
}
