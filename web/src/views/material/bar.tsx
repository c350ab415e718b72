// One bar to scale with its pieces; each names its wall and mark.

import { length, lengthUnit, t } from '../../show.ts'
import type { Bar } from './types.ts'

export function BarPicture({ bar, number, longest }: { bar: Bar; number: number; longest: number }) {
  const wide = 1000
  const x = (mm: number) => (mm / longest) * wide
  let at = 0
  const parts = bar.pieces.map((p) => {
    const from = at
    at += p.length
    return { ...p, from }
  })
  const name = t('cutting.bar', { n: number, length: lengthUnit(bar.length) })
  return (
    <figure class="bar-figure">
      <figcaption>
        {name}
        {bar.source === 'offcut' && `, ${t('cutting.offcut')}`}
      </figcaption>
      <svg viewBox={`0 0 ${wide} 34`} role="img" aria-label={`${name}: ${parts.map((p) => `${p.wall} ${p.mark} ${length(p.length)}`).join(', ')}; ${t('cutting.rest', { length: lengthUnit(bar.rest) })}`}>
        {parts.map((p) => (
          <g>
            <rect class="cut-piece" x={x(p.from)} y="0.5" width={x(p.length)} height="33" />
            {x(p.length) > 64 && <text x={x(p.from) + 5} y="14">{p.wall} {p.mark}</text>}
            {x(p.length) > 44 && <text class="soft" x={x(p.from) + 5} y="29">{length(p.length)}</text>}
          </g>
        ))}
        <rect class="stock" x={x(at)} y="0.5" width={Math.max(0, x(bar.length) - x(at) - 0.5)} height="33" />
        {x(bar.rest) > 60 && <text class="soft" x={x(at) + 5} y="21">{t('cutting.rest', { length: length(bar.rest) })}</text>}
      </svg>
    </figure>
  )
}
