// The drawing on a canvas, with the pointer and the keyboard on it.

import { effect } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import { panned, toPlan, zoomed } from '../../editor/camera.ts'
import { readTheme } from '../../editor/theme.ts'
import type { Point, Segment } from '../../geometry/vec.ts'
import { distance } from '../../geometry/vec.ts'
import { dark, language } from '../../preferences.ts'
import { t } from '../../show.ts'
import { key, press } from './hand.ts'
import { inksOf, paint } from './paint.ts'
import type { Inks } from './paint.ts'
import { byKey, camera, firstLine, items, picked, reading, shownLayer, size, tool } from './session.ts'

export function Canvas() {
  const ref = useRef<HTMLCanvasElement>(null)
  useEffect(() => (ref.current ? attach(ref.current) : undefined), [])
  const c = camera.value
  return (
    <>
      <canvas ref={ref} class={`drawing-over read-tool-${tool.value}`} tabIndex={0} role="application" aria-label={t('drawing.canvas')} aria-describedby="read-keys" data-x={c.at[0]} data-y={c.at[1]} data-scale={c.scale} />
      <p id="read-keys" class="hidden-text">
        {t('drawing.keys')}
      </p>
    </>
  )
}

function attach(canvas: HTMLCanvasElement): () => void {
  const ctx = canvas.getContext('2d', { alpha: false }) as CanvasRenderingContext2D
  const ratio = () => Math.min(devicePixelRatio || 1, 2)
  let inks: Inks = { layers: [] }
  let frame = 0
  const tick = () => {
    frame = 0
    const left = (tool.peek() === 'lines' ? (reading.peek()?.stats.left_over ?? []) : []).map((l) => [l.from, l.to] as Segment)
    paint(ctx, ratio(), camera.peek(), size.peek(), inks, { items: items.peek(), byKey: byKey.peek(), picked: picked.peek(), firstLine: firstLine.peek(), layer: shownLayer.peek(), left }, readTheme())
    canvas.dataset.painted = String(performance.now())
  }
  const stops = [
    effect(() => {
      inks = reading.value ? inksOf(reading.value) : { layers: [] }
    }),
    effect(() => {
      void [reading.value, camera.value, size.value, items.value, picked.value, firstLine.value, shownLayer.value, tool.value, dark.value, language.value]
      if (frame === 0) frame = requestAnimationFrame(tick)
    }),
    ...listen(canvas),
  ]
  const resize = new ResizeObserver(() => {
    const { width, height } = canvas.getBoundingClientRect()
    if (width === 0) return
    canvas.width = Math.round(width * ratio())
    canvas.height = Math.round(height * ratio())
    size.value = { width, height }
  })
  resize.observe(canvas)
  return () => {
    stops.forEach((stop) => stop())
    resize.disconnect()
    cancelAnimationFrame(frame)
  }
}

// A press that goes further becomes a shift of the view; two fingers zoom.
function listen(canvas: HTMLCanvasElement): (() => void)[] {
  const fingers = new Map<number, Point>()
  let pressed: Point | null = null
  const stops: (() => void)[] = []
  const on = <K extends keyof HTMLElementEventMap>(name: K, f: (e: HTMLElementEventMap[K]) => void, options?: AddEventListenerOptions) => {
    canvas.addEventListener(name, f, options)
    stops.push(() => canvas.removeEventListener(name, f))
  }
  const place = (e: PointerEvent | WheelEvent): Point => {
    const r = canvas.getBoundingClientRect()
    return [e.clientX - r.left, e.clientY - r.top]
  }
  on('pointerdown', (e) => {
    canvas.setPointerCapture(e.pointerId)
    canvas.focus({ preventScroll: true })
    fingers.set(e.pointerId, place(e))
    pressed = fingers.size === 1 && e.button === 0 ? place(e) : null
  })
  on('pointermove', (e) => {
    const was = fingers.get(e.pointerId)
    if (!was) return
    const q = place(e)
    if (pressed && distance(pressed, q) <= 4) return
    pressed = null
    const other = [...fingers].find(([id]) => id !== e.pointerId)?.[1]
    if (other) pinch(was, q, other)
    else camera.value = panned(camera.value, q[0] - was[0], q[1] - was[1])
    fingers.set(e.pointerId, q)
  })
  on('pointerup', (e) => {
    fingers.delete(e.pointerId)
    if (pressed) press(toPlan(camera.value, size.value, pressed), (e.pointerType === 'touch' ? 16 : 7) / camera.value.scale)
    pressed = null
  })
  on('pointercancel', (e) => {
    fingers.delete(e.pointerId)
    pressed = null
  })
  on('wheel', (e) => (e.preventDefault(), (camera.value = zoomed(camera.value, size.value, place(e), Math.exp(-e.deltaY * (e.deltaMode === 1 ? 0.05 : 0.0016))))), { passive: false })
  on('keydown', (e) => {
    if (key(e)) e.preventDefault()
  })
  return stops
}

function pinch(was: Point, q: Point, other: Point): void {
  const middle: Point = [(q[0] + other[0]) / 2, (q[1] + other[1]) / 2]
  const factor = distance(q, other) / Math.max(distance(was, other), 1)
  camera.value = zoomed(panned(camera.value, (q[0] - was[0]) / 2, (q[1] - was[1]) / 2), size.value, middle, factor)
}
