// The drawing: two canvases one upon the other, the pointer and the keyboard on
// them. Draws at most once a frame, and only what has changed.

import { effect } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import { dark, units } from '../preferences.ts'
import { t } from '../show.ts'
import { plan, selection } from '../state.ts'
import type { Point } from '../geometry/vec.ts'
import { Rest, shifted, widened } from './backing.ts'
import type { Camera } from './camera.ts'
import { key } from './keys.ts'
import { lookInputs, lookOf } from './look.ts'
import { lineLength, overlayNow } from './overlaystate.ts'
import { paintOverlay } from './overlay.ts'
import type { Painted } from './paint.ts'
import { paint, prepare } from './paint.ts'
import { cancel, down, ghost, hovered, move, up, wheel } from './pointer.ts'
import { camera, fit, level, scene, size, tool } from './session.ts'
import { readTheme } from './theme.ts'
import type { Theme } from './theme.ts'
import { findRoomsNow } from './tools.ts'
import { paintUnderlay, underlay } from './underlay.ts'

export function Drawing() {
  const below = useRef<HTMLCanvasElement>(null)
  const above = useRef<HTMLCanvasElement>(null)
  useEffect(() => (below.current && above.current ? attach(below.current, above.current) : undefined), [])
  const c = camera.value
  return (
    <div class={`drawing tool-${tool.value}`}>
      <canvas ref={below} class="drawing-plan" aria-hidden="true" />
      <canvas
        ref={above}
        class="drawing-over"
        tabIndex={0}
        role="application"
        aria-label={t('plan.drawing')}
        aria-describedby="drawing-keys"
        data-x={c.at[0]}
        data-y={c.at[1]}
        data-scale={c.scale}
      />
      <p id="drawing-keys" class="hidden-text">
        {t('plan.keys')}
      </p>
      <p class="hidden-text" role="status" aria-live="polite">
        {spoken()}
      </p>
    </div>
  )
}

// What a screen reader says of the selection.
function spoken(): string {
  const n = selection.value.length
  const w = n === 1 ? plan.value?.walls.find((x) => x.id === selection.value[0]) : undefined
  if (w) return t('plan.selected.wall', { id: w.id, buildup: w.buildup ?? '', length: lineLength(w) })
  return n > 0 ? t('plan.selected', { n }) : ''
}

function attach(below: HTMLCanvasElement, above: HTMLCanvasElement): () => void {
  const lower = below.getContext('2d', { alpha: false }) as CanvasRenderingContext2D
  const upper = above.getContext('2d') as CanvasRenderingContext2D
  const ratio = () => Math.min(devicePixelRatio || 1, 2)
  let prepared: Painted | null = null
  let paintedFor: Camera | null = null // null: has to be painted anew
  let theme: Theme = readTheme()
  let frame = 0
  let measured = false

  const paintLevel = () => {
    const look = lookOf(theme)
    const c = camera.peek()
    prepared ??= prepare(scene.peek(), look)
    const wide = widened(size.peek())
    paint(lower, ratio(), c, wide, prepared, look, () => paintUnderlay(lower, ratio(), c, wide))
    paintedFor = c
    below.style.transform = ''
    below.dataset.painted = String(performance.now())
  }
  const tick = () => {
    frame = 0
    const shift = paintedFor && shifted(paintedFor, camera.peek(), size.peek())
    if (!shift) paintLevel()
    else if (paintedFor !== camera.peek()) {
      below.style.transform = `translate(${shift.x}px, ${shift.y}px) scale(${shift.k})`
      rest.wait()
    }
    paintOverlay(upper, ratio(), camera.peek(), size.peek(), overlayNow.peek(), theme)
  }
  const due = () => {
    if (frame === 0) frame = requestAnimationFrame(tick)
  }
  const anew = () => {
    paintedFor = null
    due()
  }
  const rest = new Rest(anew)

  const stops: (() => void)[] = [
    effect(() => {
      // All that the bodies and their shading depend on.
      void [scene.value, lookInputs.value, dark.value]
      theme = readTheme()
      prepared = null
      anew()
    }),
    effect(() => {
      void [size.value, units.value, underlay.value]
      anew()
    }),
    effect(() => {
      void [camera.value, overlayNow.value]
      due()
    }),
    // Another level is shown whole; changes to this one leave the view as it is.
    effect(() => {
      void level.value
      if (measured) fit(scene.peek().box)
    }),
    effect(() => {
      void [tool.value, scene.value]
      findRoomsNow()
    }),
    () => rest.stop(),
  ]

  const resize = new ResizeObserver(() => {
    const { width, height } = above.getBoundingClientRect()
    if (width === 0) return
    const wide = widened({ width, height })
    below.width = Math.round(wide.width * ratio())
    below.height = Math.round(wide.height * ratio())
    below.style.width = `${wide.width}px`
    below.style.height = `${wide.height}px`
    above.width = Math.round(width * ratio())
    above.height = Math.round(height * ratio())
    size.value = { width, height }
    if (!measured) fit(scene.peek().box)
    measured = true
  })
  resize.observe(above)

  const place = (e: PointerEvent | WheelEvent): Point => {
    const r = above.getBoundingClientRect()
    return [e.clientX - r.left, e.clientY - r.top]
  }
  const on = <K extends keyof HTMLElementEventMap>(name: K, f: (e: HTMLElementEventMap[K]) => void, options?: AddEventListenerOptions) => {
    above.addEventListener(name, f, options)
    stops.push(() => above.removeEventListener(name, f))
  }
  on('pointerdown', (e) => {
    above.setPointerCapture(e.pointerId)
    above.focus({ preventScroll: true })
    down(place(e), e)
  })
  on('pointermove', (e) => move(place(e), e))
  on('pointerup', (e) => up(place(e), e))
  on('pointercancel', cancel)
  on('pointerleave', () => {
    hovered.value = null
    ghost.value = null
  })
  on('contextmenu', (e) => e.preventDefault())
  on('wheel', (e) => (e.preventDefault(), wheel(place(e), e)), { passive: false })
  on('keydown', (e) => {
    if (key(e)) e.preventDefault()
  })
  return () => {
    stops.forEach((stop) => stop())
    resize.disconnect()
    cancelAnimationFrame(frame)
  }
}
