// What is bought: whole packs for the project and called off by zone; how boards are
// stacked and lifted; what is wasted and what it weighs in carbon.

import { useState } from 'preact/hooks'
import { length, number, t, word } from '../../show.ts'
import { Downloads } from '../common/export.tsx'
import { useLoaded } from '../common/load.ts'
import { measured, quantity } from '../common/measures.ts'
import { Table } from '../common/table.tsx'
import { Loading } from '../common/waiting.tsx'
import { productName } from '../common/words.ts'
import type { Order, OrderLine, Size, Zone } from './types.ts'

export function OrderView() {
  return <Loading of={useLoaded<Order>('order')}>{(of) => <Bought of={of} />}</Loading>
}

export function sizeWords(s: Size | undefined): string {
  if (!s?.length) return ''
  return s.width ? `${length(s.width)} × ${length(s.length)}` : length(s.length)
}

function Bought({ of }: { of: Order }) {
  const [zone, setZone] = useState('')
  const called = of.call_offs?.find((z) => z.zone === zone)
  const part = called ?? of
  return (
    <>
      <form class="filters" aria-label={t('material.filter')} onSubmit={(e) => e.preventDefault()}>
        <label>
          {t('order.zone')}
          <select value={zone} onChange={(e) => setZone(e.currentTarget.value)}>
            <option value="">{t('order.whole')}</option>
            {of.call_offs?.map((z) => <option value={z.zone}>{z.zone}</option>)}
          </select>
        </label>
        <p class="facts">
          <span>{t('material.mass')} <b>{quantity(part.mass, 'kg', 0)}</b></span>
          <span>{t('order.volume')} <b>{quantity(part.volume, 'm³')}</b></span>
          <span>{t('order.pallets')} <b>{number(part.pallets)}</b></span>
          <span>{t('order.carbon')} <b>{quantity(of.carbon.a1_a3, 'kg', 0)} CO2e</b></span>
        </p>
      </form>
      <Table
        caption={t('material.order')} rows={part.lines ?? []} id={(l) => `${l.product} ${sizeWords(l.size)}`}
        columns={[
          { id: 'group', head: t('material.group'), by: (l) => l.group, cell: (l) => word('group', l.group) },
          { id: 'name', head: t('material.name'), by: (l) => l.name, cell: (l) => productName(l.name) },
          { id: 'size', head: t('order.size'), by: (l) => l.size?.length ?? 0, cell: (l) => sizeWords(l.size) },
          { id: 'packs', head: t('order.packs'), number: true, by: (l) => l.packs, cell: (l) => <b>{number(l.packs)}</b> },
          { id: 'pack', head: t('order.pack'), cell: (l) => packWords(l) },
          { id: 'net', head: t('order.net'), number: true, by: (l) => l.net, cell: (l) => quantity(l.net, l.unit) },
          { id: 'bought', head: t('order.bought'), number: true, by: (l) => l.bought, cell: (l) => quantity(l.bought, l.unit) },
          { id: 'surplus', head: t('order.surplus'), number: true, by: (l) => l.surplus, cell: (l) => (l.surplus > 0 ? quantity(l.surplus, l.unit) : '') },
          { id: 'waste', head: t('order.waste'), cell: (l) => <span lang="en">{l.waste}</span> },
          { id: 'mass', head: `${t('material.mass')}, ${measured(1, 'kg').unit}`, number: true, by: (l) => l.mass ?? 0, cell: (l) => (l.mass ? number(measured(l.mass, 'kg').value, 0) : '') },
        ]}
      />
      {called?.stacks && called.stacks.length > 0 && <Stacks of={called.stacks} />}
      {!called && <Streams of={of} />}
      <Downloads kind="order" />
    </>
  )
}

function packWords(l: OrderLine): string {
  const pack = word('pack', l.pack)
  return l.amount === 1 && l.amount_in === 'pcs' ? pack : `${pack}, ${quantity(l.amount, l.amount_in, Number.isInteger(l.amount) ? 0 : 1)}`
}

// How boards lie on the floor and who carries them.
function Stacks({ of }: { of: NonNullable<Zone['stacks']> }) {
  return (
    <>
      <h2 class="padded">{t('order.stacks')}</h2>
      <Table
        caption={t('order.stacks')} rows={of} id={(s) => `${s.product} ${sizeWords(s.size)}`}
        columns={[
          { id: 'name', head: t('material.name'), cell: (s) => productName(s.name) },
          { id: 'size', head: t('order.size'), cell: (s) => sizeWords(s.size) },
          { id: 'boards', head: t('order.boards'), number: true, cell: (s) => number(s.boards) },
          { id: 'mass', head: t('order.each'), number: true, cell: (s) => quantity(s.mass, 'kg') },
          { id: 'persons', head: t('order.lift'), cell: (s) => (s.persons ? t('order.persons', { n: s.persons }) : t('order.device')) },
          { id: 'per', head: t('order.perstack'), number: true, cell: (s) => (s.per_stack ? number(s.per_stack) : t('order.unknown')) },
          { id: 'stacks', head: t('order.places'), number: true, cell: (s) => (s.stacks ? number(s.stacks) : '') },
        ]}
      />
    </>
  )
}

function Streams({ of }: { of: Order }) {
  return (
    <>
      <h2 class="padded">{t('order.streams')}</h2>
      <Table
        caption={t('order.streams')} rows={of.waste_streams ?? []} id={(s) => s.name}
        columns={[
          { id: 'name', head: t('order.stream'), cell: (s) => word('stream', s.name) },
          { id: 'mass', head: t('material.mass'), number: true, by: (s) => s.mass, cell: (s) => quantity(s.mass, 'kg', 0) },
          { id: 'note', head: t('order.todo'), cell: (s) => <span lang="en">{s.note}</span> },
        ]}
      />
    </>
  )
}
