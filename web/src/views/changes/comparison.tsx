// What changes from one revision to another.

import { useState } from 'preact/hooks'
import { length, number, t, word } from '../../show.ts'
import { useLoaded } from '../common/load.ts'
import { quantity } from '../common/measures.ts'
import { Table } from '../common/table.tsx'
import { Loading } from '../common/waiting.tsx'
import { productName } from '../common/words.ts'
import { money } from '../material/price.tsx'
import { PlanPicture } from './planpicture.tsx'
import type { Plan } from '../../core/plan.ts'
import type { Variation } from './types.ts'

export function Comparison({ from, to }: { from: number; to: number }) {
  const before = useLoaded<Plan>(`revisions/${from}`)
  const after = useLoaded<Plan>(`revisions/${to}`)
  const variation = useLoaded<Variation>(`compare?from=${from}&to=${to}`)
  const [picked, setPicked] = useState<string | null>(null)
  return (
    <div class="scroll">
      <header class="place-head"><h2>{t('changes.between', { from: number(from), to: number(to) })}</h2></header>
      <Loading of={variation}>
        {(v) => (
          <>
            <Effect of={v} />
            {before.value && after.value && <PlanPicture before={before.value} after={after.value} of={v} picked={picked} onPick={setPicked} />}
            <General of={v} />
            <Walls of={v} picked={picked} onPick={setPicked} />
            <Orders of={v} />
          </>
        )}
      </Loading>
    </div>
  )
}

function Effect({ of: v }: { of: Variation }) {
  const nothing = !v.general?.length && !v.walls?.length && !v.order?.length
  if (nothing) return <p class="padded">{t('changes.nothing')}</p>
  const rows = [
    { name: t('price.hours'), old: number(v.hours.old, 1), new: number(v.hours.new, 1), difference: signed(v.hours.new - v.hours.old, 1) },
    { name: t('changes.mass'), old: quantity(v.mass.old, 'kg', 0), new: quantity(v.mass.new, 'kg', 0), difference: signed(v.mass.new - v.mass.old, 0) },
    ...(v.price?.lines.map((l) => ({
      name: word('sum', l.name), old: money(l.old, v.price?.currency ?? 'EUR'), new: money(l.new, v.price?.currency ?? 'EUR'),
      difference: `${l.difference.startsWith('-') ? '' : '+'}${money(l.difference, v.price?.currency ?? 'EUR')}`,
    })) ?? []),
  ]
  return (
    <>
      {v.price?.incomplete && <p class="caution">{t('changes.incomplete')}</p>}
      <Table caption={t('changes.effect')} rows={rows} id={(r) => r.name} columns={[
        { id: 'name', head: t('changes.effect'), cell: (r) => r.name },
        { id: 'old', head: t('changes.before'), number: true, cell: (r) => r.old },
        { id: 'new', head: t('changes.after'), number: true, cell: (r) => r.new },
        { id: 'difference', head: t('choice.difference'), number: true, cell: (r) => <b>{r.difference}</b> },
      ]} />
    </>
  )
}

const signed = (x: number, digits: number) => `${x > 0 ? '+' : x < 0 ? '−' : '±'}${number(Math.abs(x), digits)}`

function General({ of: v }: { of: Variation }) {
  if (!v.general?.length) return null
  return (
    <Table caption={t('changes.general')} rows={v.general} id={(g) => `${g.kind} ${g.id ?? ''}`} columns={[
      { id: 'what', head: t('changes.general'), cell: (g) => `${word('object', g.kind)} ${g.id ?? ''}` },
      { id: 'became', head: t('changes.became'), cell: (g) => t(`became.${g.what}`) },
      { id: 'how', head: t('changes.how.head'), cell: (g) => <Values of={g.changes} /> },
    ]} />
  )
}

function Values({ of }: { of: { what: string; old?: string; new?: string }[] | undefined }) {
  return (
    <ul class="values" lang="en">
      {of?.map((c) => (
        <li>
          {c.what}: <span class="quiet">{c.old || '–'}</span> → {c.new || '–'}
        </li>
      ))}
    </ul>
  )
}

function Walls({ of: v, picked, onPick }: { of: Variation; picked: string | null; onPick: (wall: string) => void }) {
  if (!v.walls?.length) return null
  return (
    <Table caption={t('changes.walls')} rows={v.walls} id={(w) => w.wall} rowClass={(w) => (w.wall === picked ? 'picked' : '')} columns={[
      { id: 'wall', head: t('proof.wall'), by: (w) => w.wall, cell: (w) => <button class="plain" onClick={() => onPick(w.wall)}>{w.wall}</button> },
      { id: 'became', head: t('changes.became'), by: (w) => w.kind, cell: (w) => <span class={`became-word ${w.kind}`}>{t(`became.${w.kind}`)}{w.was ? `, ${t('changes.was', { wall: w.was })}` : ''}</span> },
      { id: 'how', head: t('changes.how.head'), cell: (w) => <Values of={w.changes} /> },
      { id: 'parts', head: t('changes.parts'), cell: (w) => t('changes.parts.of', { kept: w.parts_kept, gone: w.parts_gone?.length ?? 0, made: w.parts_made?.length ?? 0 }) },
      { id: 'hours', head: t('price.hours'), number: true, by: (w) => w.hours.new - w.hours.old, cell: (w) => signed(w.hours.new - w.hours.old, 1) },
    ]} />
  )
}

function Orders({ of: v }: { of: Variation }) {
  if (!v.order?.length) return null
  return (
    <Table caption={t('changes.order')} rows={v.order} id={(o) => `${o.product} ${o.size?.length ?? ''} ${o.size?.width ?? ''}`} columns={[
      { id: 'name', head: t('changes.order'), by: (o) => o.name, cell: (o) => productName(o.name) },
      { id: 'size', head: t('order.size'), cell: (o) => (o.size?.length ? (o.size.width ? `${length(o.size.width)} × ${length(o.size.length)}` : length(o.size.length)) : '') },
      { id: 'old', head: t('changes.before'), number: true, cell: (o) => number(o.old) },
      { id: 'new', head: t('changes.after'), number: true, cell: (o) => number(o.new) },
      { id: 'difference', head: t('choice.difference'), number: true, by: (o) => o.new - o.old, cell: (o) => <b>{signed(o.new - o.old, 0)}</b> },
    ]} />
  )
}
