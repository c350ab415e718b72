// The list of a wall's parts beside its drawing, in step with it: what is pointed at
// in one is marked in the other.

import { useEffect, useRef } from 'preact/hooks'
import { length, t, word } from '../../show.ts'
import { layerWords } from './detail.tsx'
import type { Part } from './types.ts'

interface Props {
  parts: readonly Part[]
  layer: string | null // of the drawing shown; null for all
  picked: string | null
  hovered: string | null
  onPick: (part: Part) => void
  onHover: (id: string | null) => void
}

export function PartList(p: Props) {
  const list = p.layer === null ? p.parts : p.parts.filter((x) => x.layer === p.layer)
  const row = useRef<HTMLTableRowElement>(null)
  useEffect(() => row.current?.scrollIntoView({ block: 'nearest' }), [p.picked])
  const step = (e: KeyboardEvent) => {
    const way = { ArrowDown: 1, ArrowUp: -1 }[e.key]
    if (!way || list.length === 0) return
    e.preventDefault()
    const at = list.findIndex((x) => x.id === p.picked)
    const to = list[Math.min(Math.max(at + way, 0), list.length - 1)]
    if (to) p.onPick(to)
  }
  return (
    <div class="part-list" role="region" aria-label={t('wall.parts')} tabIndex={0} onKeyDown={step} onMouseLeave={() => p.onHover(null)}>
      <table class="sheet">
        <caption>
          {p.layer === null ? t('wall.parts.all', { n: list.length }) : t('wall.parts.layer', { n: list.length, layer: layerWords(p.layer) })}
        </caption>
        <thead>
          <tr>
            <th scope="col">{t('wall.part.mark')}</th>
            <th scope="col">{t('wall.part.what')}</th>
            <th scope="col">{t('wall.part.product')}</th>
            <th scope="col" class="number">{t('wall.part.cutsize')}</th>
          </tr>
        </thead>
        <tbody>
          {list.map((x) => (
            <tr
              key={x.id} ref={x.id === p.picked ? row : undefined} aria-selected={x.id === p.picked}
              class={`${x.id === p.picked ? 'picked' : ''} ${x.id === p.hovered ? 'hovered' : ''}`}
              onMouseEnter={() => p.onHover(x.id)} onClick={() => p.onPick(x)}
            >
              <th scope="row" class="mark">{x.id}</th>
              <td>{word('part', x.what)}</td>
              <td>{x.product}</td>
              <td class="number">{sizeOf(x)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

function sizeOf(p: Part): string {
  if (p.cut !== undefined) return length(p.cut)
  return p.width !== undefined && p.height !== undefined ? `${length(p.width)} × ${length(p.height)}` : ''
}
