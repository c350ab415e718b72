// Walls in space: one wall or a whole level. Orbit, cut away layer by layer or at a
// height, point at a part. Where the browser has no WebGL, what is given instead is
// shown.

import type { ComponentChildren } from 'preact'
import { useEffect, useMemo, useRef, useState } from 'preact/hooks'
import { appearance } from '../../preferences.ts'
import { lengthUnit, t } from '../../show.ts'
import { useLoaded } from '../common/load.ts'
import { layerWords } from '../wall/detail.tsx'
import { peeling, pieces } from './model.ts'
import type { Model, Piece } from './model.ts'
import { Space } from './space.ts'

interface Props {
  scope: { wall?: string; level?: string }
  picked: { wall: string; part: string } | null
  onPick: (at: { wall: string; part: string } | null) => void
  instead?: ComponentChildren
}

export default function Stage({ scope, picked, onPick, instead }: Props) {
  const pane = useRef<HTMLDivElement>(null)
  const [space, setSpace] = useState<Space | null>(null)
  const [failed, setFailed] = useState(false)
  const [hidden, setHidden] = useState<ReadonlySet<string>>(new Set())
  const [height, setHeight] = useState<number | null>(null)
  const query = new URLSearchParams(scope as Record<string, string>).toString()
  const model = useLoaded<Model>(`model?${query}`)
  const list = useMemo(() => (model.value ? pieces(model.value) : []), [model.value])
  const layers = useMemo(() => peeling([...new Set(list.map((p) => p.layer))]), [list])
  const top = useMemo(() => tallest(list), [list])
  const fitted = useRef('')

  useEffect(() => {
    if (!pane.current) return
    try {
      const s = new Space(pane.current)
      setSpace(s)
      s.resize()
      const watch = new ResizeObserver(() => s.resize())
      watch.observe(pane.current)
      return () => {
        watch.disconnect()
        s.end()
      }
    } catch {
      setFailed(true)
      return
    }
  }, [])

  useEffect(() => {
    if (!space || list.length === 0) return
    space.show(list, hues(), fitted.current !== query ? outlook(list, scope.wall !== undefined) : null)
    fitted.current = query
    space.cut(hidden, height)
  }, [space, list, appearance.value])
  useEffect(() => space?.cut(hidden, height), [space, hidden, height])
  useEffect(() => {
    const p = picked && list.find((x) => x.wall === picked.wall && x.part === picked.part)
    space?.mark(p || null, colour('--accent'))
  }, [space, list, picked?.wall, picked?.part])

  if (failed) {
    return (
      <div class="stage-none">
        <p class="caution">{t('solid.nowebgl')}</p>
        {instead}
      </div>
    )
  }
  return (
    <div class="stage">
      <div
        ref={pane} class="stage-pane" tabIndex={0} role="application" aria-label={t('solid.label', { what: scope.wall ?? scope.level ?? '' })}
        aria-busy={model.busy} onKeyDown={(e) => space && keys(space, e)} {...usePress((x, y) => pick(space?.pieceAt(x, y) ?? null, onPick))}
      />
      {model.error && <p class="error padded" role="alert">{model.error}</p>}
      {model.value === null && !model.error && <p class="quiet stage-wait">{t('solid.loading')}</p>}
      <div class="stage-tools">
        <button onClick={() => space?.fit()} title={`${t('wall.zoom.fit')} (0)`}>{t('wall.zoom.fit')}</button>
        <button onClick={() => setHidden(bared(layers, hidden, 'a'))}>{t('solid.peel', { face: 'A' })}</button>
        <button onClick={() => setHidden(bared(layers, hidden, 'b'))}>{t('solid.peel', { face: 'B' })}</button>
        <button onClick={() => { setHidden(new Set()); setHeight(null) }} disabled={hidden.size === 0 && height === null}>{t('solid.whole')}</button>
        <label class="stage-height">
          {t('solid.height')}
          <input type="range" min={200} max={Math.ceil(top)} step={50} value={height ?? Math.ceil(top)} onInput={(e) => setHeight(Number(e.currentTarget.value) >= top ? null : Number(e.currentTarget.value))} />
          <output>{height === null ? t('solid.all') : lengthUnit(height)}</output>
        </label>
        <fieldset class="layers">
          <legend class="hidden-text">{t('wall.layers')}</legend>
          {layers.map((name) => (
            <label>
              <input type="checkbox" checked={!hidden.has(name)} onChange={() => setHidden(toggled(hidden, name))} /> {layerWords(name)}
            </label>
          ))}
        </fieldset>
      </div>
    </div>
  )
}

// Height of the highest part over the lowest floor.
function tallest(list: readonly Piece[]): number {
  let [low, high] = [Infinity, 0]
  for (const p of list) {
    low = Math.min(low, p.place.base)
    for (let i = 1; i < (p.outlines[0]?.length ?? 0); i += 2) high = Math.max(high, p.place.base + (p.outlines[0]?.[i] ?? 0))
  }
  return list.length > 0 ? high - low : 0
}

// From where to look: at a wall from the side of face A and its start, at a level
// from the south-west.
function outlook(list: readonly Piece[], wall: boolean): readonly [number, number] {
  const [dx, dy] = (wall && list[0]?.place.dir(0)) || [0, 0]
  return dx === 0 && dy === 0 ? [-0.45, -0.75] : [-dy - 0.45 * dx, dx - 0.45 * dy]
}

function pick(p: Piece | null, onPick: Props['onPick']): void {
  onPick(p && { wall: p.wall, part: p.part })
}

// A press that does not move picks; one that moves turns the camera.
function usePress(press: (x: number, y: number) => void) {
  const from = useRef({ x: 0, y: 0 })
  return {
    onPointerDown: (e: PointerEvent) => void (from.current = { x: e.clientX, y: e.clientY }),
    onPointerUp: (e: PointerEvent & { currentTarget: HTMLElement }) => {
      if (Math.hypot(e.clientX - from.current.x, e.clientY - from.current.y) > 5) return
      const box = e.currentTarget.getBoundingClientRect()
      press(e.clientX - box.x, e.clientY - box.y)
    },
  }
}

function toggled(set: ReadonlySet<string>, name: string): ReadonlySet<string> {
  const next = new Set(set)
  if (!next.delete(name)) next.add(name)
  return next
}

// Takes the outermost layer that is still there off one face; then what is inside.
export function bared(layers: readonly string[], hidden: ReadonlySet<string>, face: 'a' | 'b'): ReadonlySet<string> {
  const order = face === 'a' ? layers : [...layers].reverse()
  const next = order.find((l) => !hidden.has(l) && (l.startsWith(face) || /^(trim|fill)$/.test(l)))
  return next ? new Set([...hidden, next]) : hidden
}

function keys(s: Space, e: KeyboardEvent): void {
  const acts: Record<string, () => void> = {
    ArrowLeft: () => (e.shiftKey ? s.slide(-0.05, 0) : s.turn(-0.12, 0)),
    ArrowRight: () => (e.shiftKey ? s.slide(0.05, 0) : s.turn(0.12, 0)),
    ArrowUp: () => (e.shiftKey ? s.slide(0, 0.05) : s.turn(0, 0.1)),
    ArrowDown: () => (e.shiftKey ? s.slide(0, -0.05) : s.turn(0, -0.1)),
    '+': () => s.nearer(1.2),
    '=': () => s.nearer(1.2),
    '-': () => s.nearer(1 / 1.2),
    '0': () => s.fit(),
  }
  const act = acts[e.key]
  if (!act || e.ctrlKey || e.metaKey) return
  e.preventDefault()
  act()
}

const colour = (name: string) => getComputedStyle(document.documentElement).getPropertyValue(name).trim()

function hues() {
  return {
    steel: colour('--solid-steel'), fill: colour('--solid-fill'), bracket: colour('--solid-bracket'),
    inner: colour('--solid-inner'), outer: colour('--solid-outer'), edge: colour('--solid-edge'),
  }
}
