// Shows one of the server's drawings of a wall: enlarge, move, point at parts, step
// through them with the arrow keys. Marks and dimensions show once they can be read.

import { useEffect, useRef, useState } from 'preact/hooks'
import { t, word } from '../../show.ts'
import { inked } from './ink.ts'
import { density, fitted, moved, showing, zoomed } from './viewport.ts'
import type { Size, Window } from './viewport.ts'

interface Props {
  svg: string
  label: string
  wall?: string // whose parts are pointed at; a junction shows those of others, too
  picked: string | null
  hovered: string | null
  hidden: ReadonlySet<string> // layers of the drawing that are not shown
  sheet?: boolean // a sheet of paper, whose texts belong to it at any size
  onPick: (id: string | null) => void
  onHover: (id: string | null) => void
  onLayers: (names: string[]) => void
}

const legible = 2.5 // pixels for a millimetre from which small texts can be read

export function Drawing(p: Props) {
  const pane = useRef<HTMLDivElement>(null)
  const [root, setRoot] = useState<SVGSVGElement | null>(null)
  const [seen, setSeen] = useState<Window | null>(null)
  const size = usePaneSize(pane)
  const sheet = sheetOf(root)

  useEffect(() => {
    const svg = inked(p.svg)
    if (!svg || !pane.current) return
    svg.setAttribute('aria-hidden', 'true')
    pane.current.replaceChildren(svg)
    const same = root && sheetOf(root).width === sheetOf(svg).width
    setRoot(svg)
    if (!same || !seen) setSeen(fitted(sheetOf(svg)))
    p.onLayers([...svg.querySelectorAll('[data-layer]')].map((g) => g.getAttribute('data-layer') ?? ''))
  }, [p.svg])

  useEffect(() => {
    if (root && seen) root.setAttribute('viewBox', `${seen.x} ${seen.y} ${seen.width} ${seen.height}`)
  }, [root, seen])

  useEffect(() => {
    for (const g of root?.querySelectorAll<SVGGElement>('[data-layer]') ?? []) g.classList.toggle('off', p.hidden.has(g.dataset.layer ?? ''))
  }, [root, p.hidden])

  useMarked(root, 'hovered', p.hovered, p.wall)
  useMarked(root, 'picked', p.picked, p.wall)
  useEffect(() => {
    const box = boxOf(root, p.picked, p.wall)
    if (box && seen && seen.width < sheet.width) setSeen(showing(seen, sheet, box))
  }, [p.picked, root])

  const far = !p.sheet && seen !== null && size !== null && density(seen, size) < legible
  const at = (e: MouseEvent): { x: number; y: number } => {
    const m = root?.getScreenCTM()?.inverse()
    return m ? new DOMPoint(e.clientX, e.clientY).matrixTransform(m) : { x: 0, y: 0 }
  }
  const middle = () => (seen ? { x: seen.x + seen.width / 2, y: seen.y + seen.height / 2 } : { x: 0, y: 0 })
  const zoom = (factor: number, about = middle()) => seen && setSeen(zoomed(seen, sheet, factor, about))
  const drag = useDrag(pane, {
    move: (dx, dy) => setSeen((w) => w && size && moved(w, sheet, -dx / density(w, size), -dy / density(w, size))),
    pinch: (factor, e) => setSeen((w) => w && zoomed(w, sheet, factor, at(e))),
  })

  const key = (e: KeyboardEvent) => {
    if (e.ctrlKey || e.metaKey || e.altKey) return
    const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[e.key]
    if (step) p.onPick(next(root, p.picked, step, p.wall))
    else if (e.key === '+' || e.key === '=') zoom(1.4)
    else if (e.key === '-') zoom(1 / 1.4)
    else if (e.key === '0') setSeen(fitted(sheet))
    else if (e.key === 'Escape') p.onPick(null)
    else return
    e.preventDefault()
  }
  return (
    <div class={`wall-drawing ${far ? 'far' : ''}`}>
      <div
        ref={pane} class="drawing-pane" tabIndex={0} role="application" aria-label={`${p.label}. ${t('wall.drawing.keys')}`}
        onKeyDown={key} {...drag}
        onWheel={(e) => { e.preventDefault(); zoom(Math.exp(-e.deltaY / 400), at(e)) }}
        onPointerOver={(e) => p.onHover(partAt(e, p.wall))} onPointerLeave={() => p.onHover(null)}
        onClick={(e) => drag.still() && p.onPick(partAt(e, p.wall))}
      />
      <div class="drawing-tools">
        <button onClick={() => zoom(1.4)} aria-label={t('wall.zoom.in')} title={`${t('wall.zoom.in')} (+)`}>+</button>
        <button onClick={() => zoom(1 / 1.4)} aria-label={t('wall.zoom.out')} title={`${t('wall.zoom.out')} (-)`}>−</button>
        <button onClick={() => setSeen(fitted(sheet))} title={`${t('wall.zoom.fit')} (0)`}>{t('wall.zoom.fit')}</button>
        {far && <span class="quiet hint">{t('wall.zoom.far')}</span>}
      </div>
    </div>
  )
}

export const layerName = (name: string) => word('layer', name)

function sheetOf(svg: SVGSVGElement | null): Size {
  const [, , width = 1, height = 1] = (svg?.dataset.sheet ?? svg?.getAttribute('viewBox') ?? '').split(' ').map(Number)
  if (svg && svg.dataset.sheet === undefined) svg.dataset.sheet = `0 0 ${width} ${height}`
  return { width, height }
}

function partAt(e: Event, wall: string | undefined): string | null {
  const g = e.target instanceof Element ? e.target.closest('[data-part]') : null
  return g && ownedBy(g, wall) ? (g.getAttribute('data-part')?.split('+')[0] ?? null) : null
}

const ownedBy = (g: Element, wall: string | undefined) => wall === undefined || g.getAttribute('data-wall') === wall

// The groups that show a part; of two in one place, one group shows both.
function groupsOf(root: SVGSVGElement | null, id: string | null, wall: string | undefined): SVGGElement[] {
  if (!root || id === null) return []
  return [...root.querySelectorAll<SVGGElement>('[data-part]')].filter((g) => g.dataset.part?.split('+').includes(id) && ownedBy(g, wall))
}

function useMarked(root: SVGSVGElement | null, name: string, id: string | null, wall: string | undefined) {
  useEffect(() => {
    const groups = groupsOf(root, id, wall)
    for (const g of groups) g.classList.add(name)
    return () => {
      for (const g of groups) g.classList.remove(name)
    }
  }, [root, id])
}

function boxOf(root: SVGSVGElement | null, id: string | null, wall: string | undefined): Window | null {
  const g = groupsOf(root, id, wall)[0]
  if (!g) return null
  const { x, y, width, height } = g.getBBox()
  return { x, y, width, height }
}

// The part after or before another, from left to right as drawn.
function next(root: SVGSVGElement | null, id: string | null, step: number, wall: string | undefined): string | null {
  const seen = new Map<string, number>()
  for (const g of root?.querySelectorAll<SVGGElement>('[data-part]') ?? []) {
    const part = g.dataset.part?.split('+')[0]
    if (part && ownedBy(g, wall) && !seen.has(part)) seen.set(part, g.getBBox().x)
  }
  const order = [...seen].sort((a, b) => a[1] - b[1]).map(([part]) => part)
  const at = id === null ? (step > 0 ? -1 : 0) : order.indexOf(id)
  return order[(at + step + order.length) % order.length] ?? null
}

function usePaneSize(pane: { current: HTMLDivElement | null }): Size | null {
  const [size, setSize] = useState<Size | null>(null)
  useEffect(() => {
    if (!pane.current) return
    const watch = new ResizeObserver(([e]) => e && setSize({ width: e.contentRect.width, height: e.contentRect.height }))
    watch.observe(pane.current)
    return () => watch.disconnect()
  }, [])
  return size
}

// Moves with one pointer, enlarges with two. A press that did not move is a click.
function useDrag(pane: { current: HTMLDivElement | null }, on: { move: (dx: number, dy: number) => void; pinch: (factor: number, e: PointerEvent) => void }) {
  const down = useRef(new Map<number, { x: number; y: number }>())
  const way = useRef(0)
  const apart = () => {
    const [a, b] = [...down.current.values()]
    return a && b ? Math.hypot(a.x - b.x, a.y - b.y) : 0
  }
  const end = (e: PointerEvent) => void down.current.delete(e.pointerId)
  return {
    still: () => way.current < 6,
    onPointerDown: (e: PointerEvent) => {
      if (down.current.size === 0) way.current = 0
      down.current.set(e.pointerId, { x: e.clientX, y: e.clientY })
    },
    onPointerMove: (e: PointerEvent) => {
      const last = down.current.get(e.pointerId)
      if (!last) return
      const [dx, dy, before] = [e.clientX - last.x, e.clientY - last.y, apart()]
      down.current.set(e.pointerId, { x: e.clientX, y: e.clientY })
      way.current += Math.hypot(dx, dy)
      if (way.current < 6) return
      pane.current?.setPointerCapture(e.pointerId)
      if (down.current.size === 1) on.move(dx, dy)
      else if (before > 0) on.pinch(apart() / before, e)
    },
    onPointerUp: end,
    onPointerCancel: end,
  }
}
