// One way to cut a board: the picture with numbered cuts, the cuts in words, and the
// pieces of each board that is cut so.

import { length, lengthUnit, number, t } from '../../show.ts'
import type { Area, Cut, Way } from './types.ts'

const scale = 0.1 // picture units for a millimetre

export function WayPicture({ way: w }: { way: Way }) {
  const title = t(w.offcut ? 'cutting.way.offcut' : 'cutting.way', { n: w.number, size: `${lengthUnit(w.width)} × ${lengthUnit(w.length)}`, count: w.sheets.length })
  return (
    <figure class="way">
      <figcaption><b>{title}</b></figcaption>
      <div class="way-body">
        <svg viewBox={`-1 -1 ${w.width * scale + 2} ${w.length * scale + 2}`} role="img" aria-label={title}>
          <defs>
            <pattern id={`waste${w.number}`} width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
              <path class="hatch" d="M0 0V7" />
            </pattern>
          </defs>
          {w.areas.map((a) => <AreaPicture a={a} w={w} />)}
          <rect class="board-rim" width={w.width * scale} height={w.length * scale} />
          {w.cuts.map((c, i) => <CutPicture c={c} n={i + 1} w={w} />)}
        </svg>
        <div class="way-text">
          <ol class="cuts">{w.cuts.map((c) => <li>{cutWords(c)}</li>)}</ol>
          <ul class="way-sheets">
            {w.sheets.slice(0, 8).map((s) => (
              <li>
                <b>{t('cutting.sheet', { n: number(s.number) })}</b>
                {s.from ? ` (${t('cutting.from', { n: number(s.from) })})` : ''}: {s.pieces.map((p, i) => `${letter(i)} ${p.replace('/', ' ')}`).join(', ')}
              </li>
            ))}
            {w.sheets.length > 8 && <li>{t('cutting.more', { n: w.sheets.length - 8 })}</li>}
          </ul>
        </div>
      </div>
    </figure>
  )
}

function AreaPicture({ a, w }: { a: Area; w: Way }) {
  const box = { x: a.x * scale, y: (w.length - a.y - a.h) * scale, width: a.w * scale, height: a.h * scale }
  const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 }
  const piece = a.name !== 'waste' && a.name !== 'offcut'
  const size = `${length(a.w)} × ${length(a.h)}`
  const upright = box.width < 62 && box.height > box.width
  return (
    <g>
      <rect class={piece ? (a.notch ? 'cut-piece notch' : 'cut-piece') : a.name} {...box} fill={piece ? undefined : `url(#waste${w.number})`} />
      {piece && Math.min(box.width, box.height) > 9 && (
        <text x={middle.x} y={middle.y} text-anchor="middle" dominant-baseline="central" transform={upright ? `rotate(-90 ${middle.x} ${middle.y})` : undefined}>
          {Math.max(box.width, box.height) > 70 ? `${a.name}  ${size}` : a.name}
        </text>
      )}
    </g>
  )
}

function CutPicture({ c, n, w }: { c: Cut; n: number; w: Way }) {
  const [x1, y1, x2, y2] = c.line
  const at = (y: number) => (w.length - y) * scale
  const [cx, cy] = [x1 * scale + (x2 - x1) * scale * 0.18, at(y1 + (y2 - y1) * 0.82)]
  return (
    <g class="cut-line">
      <line x1={x1 * scale} y1={at(y1)} x2={x2 * scale} y2={at(y2)} />
      <circle cx={cx} cy={cy} r="6.5" />
      <text x={cx} y={cy} text-anchor="middle" dominant-baseline="central">{n}</text>
    </g>
  )
}

// One cut as it is said on site: what is cut, which way, how far from which edge, and
// what comes off.
function cutWords(c: Cut): string {
  const key = c.along ? 'cutting.step.along' : 'cutting.step.across'
  const text = t(key, { of: partWords(c.of), at: lengthUnit(c.at), off: partWords(c.off) })
  return c.rest ? `${text}, ${t('cutting.step.rest', { rest: partWords(c.rest) })}` : text
}

function partWords(name: string): string {
  if (name === 'board' || name === 'offcut' || name === 'waste') return t(`cutting.part.${name}`)
  return name === name.toUpperCase() ? t('cutting.part', { name }) : name
}

function letter(i: number): string {
  return i < 26 ? String.fromCharCode(97 + i) : letter(Math.floor(i / 26) - 1) + letter(i % 26)
}
