// What the job costs and what is asked for it. Amounts come as decimal numbers in
// text and are only shown, never reckoned with here.

import { useState } from 'preact/hooks'
import { locale, number, t, word } from '../../show.ts'
import { plan } from '../../state.ts'
import { PriceFiles } from './pricefiles.tsx'
import { Downloads } from '../common/export.tsx'
import { useLoaded } from '../common/load.ts'
import { quantity } from '../common/measures.ts'
import { Table } from '../common/table.tsx'
import { Loading } from '../common/waiting.tsx'
import { productName } from '../common/words.ts'

interface Bid {
  currency: string
  rounding: string
  materials: { product: string; name: string; size?: string; supplier?: string; quantity: string; unit: string; price: string; per: string; amount: string }[] | null
  labour: { operation: string; name: string; quantity: number; unit: string; norm: number; hours: string; rate: string; amount: string; status: string }[] | null
  plant: { name: string; quantity: string; unit: string; cost: string; amount: string }[] | null
  schedule: { level: string; build_up: string; walls: number; area: number; hours: number; material: string; labour: string; plant: string; surcharge: string; net: string; rate: string }[] | null
  hours: string
  material_total: string
  labour_total: string
  plant_total: string
  direct_cost: string
  overhead: string
  risk: string
  margin: string
  net: string
  tax: string
  total: string
  missing?: string[]
  left_out?: string[]
  alternates?: { name: string; what: string; net: string; difference: string; incomplete?: boolean }[]
}

export function PriceView() {
  const [files, setFiles] = useState(0) // counts changes of the files, which ask for the price again
  const loaded = useLoaded<Bid>(files === 0 ? 'price' : `price?files=${files}`)
  return (
    <>
      {loaded.status === 404 ? <p class="padded">{t('price.none')}</p> : <Loading of={loaded}>{(of) => <Priced of={of} />}</Loading>}
      <PriceFiles onChange={() => setFiles(files + 1)} />
    </>
  )
}

// An amount of money written by the locale, without going through a float.
export function money(amount: string, currency: string): string {
  const format = new Intl.NumberFormat(locale(), { style: 'currency', currency })
  return format.format(amount as unknown as number).replace('-', '−') // Intl takes decimal text as it is
}

const tables = ['schedule', 'materials', 'labour', 'plant'] as const

function Priced({ of: b }: { of: Bid }) {
  const [show, setShow] = useState<(typeof tables)[number]>('schedule')
  const m = (x: string) => money(x, b.currency)
  return (
    <>
      {b.missing && b.missing.length > 0 && <p class="caution">{t('price.missing', { list: b.missing.join(', ') })}</p>}
      <div class="price-top">
        <table class="sheet sums">
          <caption>{t('price.sums')}</caption>
          <tbody>
            <Sum name={t('price.material')} amount={m(b.material_total)} />
            <Sum name={t('price.labour', { hours: number(Number(b.hours), 1) })} amount={m(b.labour_total)} />
            <Sum name={t('price.plant')} amount={m(b.plant_total)} />
            <Sum name={t('price.direct')} amount={m(b.direct_cost)} strong />
            <Sum name={t('price.overhead')} amount={m(b.overhead)} />
            <Sum name={t('price.risk')} amount={m(b.risk)} />
            <Sum name={t('price.margin')} amount={m(b.margin)} />
            <Sum name={t('price.net')} amount={m(b.net)} strong />
            <Sum name={t('price.tax')} amount={m(b.tax)} />
            <Sum name={t('price.total')} amount={m(b.total)} strong />
          </tbody>
        </table>
        {b.alternates && b.alternates.length > 0 && (
          <table class="sheet sums">
            <caption>{t('price.alternates')}</caption>
            <tbody>
              {b.alternates.map((a) => (
                <tr>
                  <th scope="row">{a.name}<br /><span class="quiet" lang="en">{a.what}</span></th>
                  <td class="number">{m(a.net)}</td>
                  <td class="number">{a.difference.startsWith('-') ? '' : '+'}{m(a.difference)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
      </div>
      <div class="sections" role="group" aria-label={t('price.tables')}>
        {tables.map((id) => <button aria-pressed={id === show} onClick={() => setShow(id)}>{t(`price.${id}.title`)}</button>)}
      </div>
      {show === 'schedule' && <Schedule of={b} m={m} />}
      {show === 'materials' && <Materials of={b} m={m} />}
      {show === 'labour' && <Labour of={b} m={m} />}
      {show === 'plant' && (
        <Table caption={t('price.plant.title')} rows={b.plant ?? []} id={(p) => p.name} columns={[
          { id: 'name', head: t('material.name'), by: (p) => p.name, cell: (p) => p.name },
          { id: 'quantity', head: t('material.quantity'), number: true, cell: (p) => `${p.quantity} ${p.unit}` },
          { id: 'cost', head: t('price.rate'), number: true, cell: (p) => m(p.cost) },
          { id: 'amount', head: t('price.amount'), number: true, by: (p) => Number(p.amount), cell: (p) => m(p.amount) },
        ]} />
      )}
      <p class="quiet padded" lang="en">{b.rounding}</p>
      <Downloads kind="price" />
    </>
  )
}

function Sum({ name, amount, strong }: { name: string; amount: string; strong?: boolean }) {
  return (
    <tr class={strong ? 'strong' : ''}>
      <th scope="row">{name}</th>
      <td class="number">{amount}</td>
    </tr>
  )
}

interface PartProps {
  of: Bid
  m: (x: string) => string
}

function Schedule({ of: b, m }: PartProps) {
  const level = (id: string) => plan.value?.levels.find((l) => l.id === id)?.name || id
  return (
    <Table caption={t('price.schedule.title')} rows={b.schedule ?? []} id={(r) => `${r.level} ${r.build_up}`} columns={[
      { id: 'level', head: t('material.level'), by: (r) => r.level, cell: (r) => level(r.level) },
      { id: 'buildup', head: t('walls.buildup'), by: (r) => r.build_up, cell: (r) => r.build_up },
      { id: 'walls', head: t('price.walls'), number: true, by: (r) => r.walls, cell: (r) => number(r.walls) },
      { id: 'area', head: t('price.area'), number: true, by: (r) => r.area, cell: (r) => quantity(r.area, 'm²') },
      { id: 'hours', head: t('price.hours'), number: true, by: (r) => r.hours, cell: (r) => number(r.hours, 1) },
      { id: 'material', head: t('price.material'), number: true, by: (r) => Number(r.material), cell: (r) => m(r.material) },
      { id: 'labour', head: t('price.labour.title'), number: true, by: (r) => Number(r.labour), cell: (r) => m(r.labour) },
      { id: 'net', head: t('price.net'), number: true, by: (r) => Number(r.net), cell: (r) => <b>{m(r.net)}</b> },
      { id: 'rate', head: t('price.perarea'), number: true, by: (r) => Number(r.rate), cell: (r) => m(r.rate) },
    ]} />
  )
}

function Materials({ of: b, m }: PartProps) {
  return (
    <Table caption={t('price.materials.title')} rows={b.materials ?? []} id={(l) => `${l.product} ${l.size ?? ''}`} columns={[
      { id: 'name', head: t('material.name'), by: (l) => l.name, cell: (l) => productName(l.name) },
      { id: 'size', head: t('order.size'), cell: (l) => l.size },
      { id: 'supplier', head: t('price.supplier'), by: (l) => l.supplier ?? '', cell: (l) => l.supplier },
      { id: 'quantity', head: t('material.quantity'), number: true, by: (l) => Number(l.quantity), cell: (l) => `${number(Number(l.quantity), 1)} ${l.unit}` },
      { id: 'price', head: t('price.rate'), number: true, cell: (l) => (l.per === '1' ? m(l.price) : `${m(l.price)} / ${l.per}`) },
      { id: 'amount', head: t('price.amount'), number: true, by: (l) => Number(l.amount), cell: (l) => m(l.amount) },
    ]} />
  )
}

function Labour({ of: b, m }: PartProps) {
  return (
    <Table caption={t('price.labour.title')} rows={b.labour ?? []} id={(l) => l.operation} columns={[
      { id: 'name', head: t('price.operation'), by: (l) => l.name, cell: (l) => word('work', l.name) },
      { id: 'quantity', head: t('material.quantity'), number: true, by: (l) => l.quantity, cell: (l) => quantity(l.quantity, l.unit) },
      { id: 'norm', head: t('price.norm'), number: true, cell: (l) => number(l.norm, 1) },
      { id: 'hours', head: t('price.hours'), number: true, by: (l) => Number(l.hours), cell: (l) => number(Number(l.hours), 1) },
      { id: 'rate', head: t('price.rate'), number: true, cell: (l) => m(l.rate) },
      { id: 'amount', head: t('price.amount'), number: true, by: (l) => Number(l.amount), cell: (l) => m(l.amount) },
    ]} />
  )
}
