// A table that people sort by the heads of its columns. Very long ones show their
// first rows and say how many more there are.

import type { ComponentChildren } from 'preact'
import { useMemo, useState } from 'preact/hooks'
import { number, t } from '../../show.ts'
import { language } from '../../preferences.ts'

export interface Column<R> {
  id: string
  head: string
  cell: (row: R) => ComponentChildren
  by?: (row: R) => string | number // by what the column is sorted; not at all without
  number?: boolean
}

interface Props<R> {
  caption: string
  columns: Column<R>[]
  rows: readonly R[]
  id: (row: R) => string
  foot?: ComponentChildren
  rowClass?: (row: R) => string
  onRow?: (row: R) => void // pointed at
}

const first = 300

export function Table<R>(p: Props<R>) {
  const [sort, setSort] = useState<{ id: string; down: boolean } | null>(null)
  const [all, setAll] = useState(false)
  const rows = useMemo(() => sorted(p.rows, p.columns, sort), [p.rows, p.columns, sort])
  const shown = all ? rows : rows.slice(0, first)
  const press = (id: string) => setSort((s) => (s?.id !== id ? { id, down: false } : s.down ? null : { id, down: true }))
  return (
    <div class="table-frame" role="region" aria-label={p.caption} tabIndex={0}>
      <table class="sheet">
        <caption class="hidden-text">{p.caption}</caption>
        <thead>
          <tr>
            {p.columns.map((c) => (
              <th scope="col" class={c.number ? 'number' : ''} aria-sort={sort?.id === c.id ? (sort.down ? 'descending' : 'ascending') : undefined}>
                {c.by ? <button class="head" onClick={() => press(c.id)}>{c.head}<span aria-hidden="true">{mark(sort, c.id)}</span></button> : c.head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {shown.map((r) => (
            <tr key={p.id(r)} class={p.rowClass?.(r)} onMouseEnter={p.onRow && (() => p.onRow?.(r))}>
              {p.columns.map((c) => (
                <td class={c.number ? 'number' : ''}>{c.cell(r)}</td>
              ))}
            </tr>
          ))}
        </tbody>
        {p.foot && <tfoot>{p.foot}</tfoot>}
      </table>
      {shown.length < rows.length && (
        <button class="more" onClick={() => setAll(true)}>
          {t('common.more', { n: number(rows.length - shown.length) })}
        </button>
      )}
    </div>
  )
}

function mark(sort: { id: string; down: boolean } | null, id: string): string {
  return sort?.id === id ? (sort.down ? ' ▼' : ' ▲') : ''
}

function sorted<R>(rows: readonly R[], columns: Column<R>[], sort: { id: string; down: boolean } | null): R[] {
  const by = columns.find((c) => c.id === sort?.id)?.by
  if (!by || !sort) return [...rows]
  const order = new Intl.Collator(language.value, { numeric: true })
  const way = sort.down ? -1 : 1
  return [...rows].sort((a, b) => {
    const [x, y] = [by(a), by(b)]
    return way * (typeof x === 'number' && typeof y === 'number' ? x - y : order.compare(String(x), String(y)))
  })
}
