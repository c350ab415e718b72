// How bars and boards are cut, as pictures: each bar with the pieces that come of it,
// each way to cut a board once, with its cuts in their order.

import { useState } from 'preact/hooks'
import { lengthUnit, number, t } from '../../show.ts'
import { Downloads } from '../common/export.tsx'
import { useLoaded } from '../common/load.ts'
import { quantity } from '../common/measures.ts'
import { Loading } from '../common/waiting.tsx'
import { productName } from '../common/words.ts'
import { BarPicture } from './bar.tsx'
import { WayPicture } from './way.tsx'
import type { BoardPlan, Cutting, ProfilePlan } from './types.ts'

export function CuttingView() {
  return <Loading of={useLoaded<Cutting>('cutting')}>{(of) => <Plans of={of} />}</Loading>
}

function Plans({ of }: { of: Cutting }) {
  const [zone, setZone] = useState(of.zones[0]?.zone ?? '')
  const z = of.zones.find((x) => x.zone === zone) ?? of.zones[0]
  const products = [...(z?.profiles ?? []), ...(z?.boards ?? [])]
  const [product, setProduct] = useState('')
  const shown = products.find((p) => p.product === product) ?? products[0]
  if (!z || !shown) return <p class="padded quiet">{t('cutting.none')}</p>
  return (
    <>
      <form class="filters" aria-label={t('material.filter')} onSubmit={(e) => e.preventDefault()}>
        <label>
          {t('order.zone')}
          <select value={z.zone} onChange={(e) => setZone(e.currentTarget.value)}>
            {of.zones.map((x) => <option value={x.zone}>{x.zone}</option>)}
          </select>
        </label>
        <label>
          {t('cutting.product')}
          <select value={shown.product} onChange={(e) => setProduct(e.currentTarget.value)}>
            <optgroup label={t('cutting.bars')}>{z.profiles.map((p) => <option value={p.product}>{productName(p.name)}</option>)}</optgroup>
            <optgroup label={t('cutting.boards')}>{z.boards.map((b) => <option value={b.product}>{productName(b.name)}</option>)}</optgroup>
          </select>
        </label>
      </form>
      {'bars' in shown ? <Bars of={shown} key={`${z.zone} ${shown.product}`} /> : <Boards of={shown} key={`${z.zone} ${shown.product}`} />}
      <p class="caution">{t('cutting.caution')}</p>
      <Downloads kind="cutting" />
    </>
  )
}

function Bars({ of: p }: { of: ProfilePlan }) {
  const [all, setAll] = useState(false)
  const longest = Math.max(...p.bars.map((b) => b.length))
  const shown = all ? p.bars : p.bars.slice(0, 40)
  return (
    <section class="padded" aria-label={p.name}>
      <p class="facts">
        <span>{t('cutting.bars')} <b>{number(p.bars.length)}</b></span>
        <span>{t('order.bought')} <b>{quantity(p.bought / 1000, 'm')}</b></span>
        <span>{t('cutting.needed')} <b>{quantity(p.needed / 1000, 'm')}</b></span>
        <span>{t('cutting.waste')} <b>{number(p.bought > 0 ? (p.waste / p.bought) * 100 : 0, 1)} %</b></span>
        <span>{bound(p.cost, p.bound)}</span>
      </p>
      <ol class="bars">
        {shown.map((b, i) => (
          <li key={i}>
            <BarPicture bar={b} number={i + 1} longest={longest} />
          </li>
        ))}
      </ol>
      {shown.length < p.bars.length && <button onClick={() => setAll(true)}>{t('common.more', { n: p.bars.length - shown.length })}</button>}
    </section>
  )
}

// How near the plan is to the best that can be.
function bound(cost: number, least: number): string {
  if (cost === least || least === 0) return t('cutting.least')
  return t('cutting.within', { percent: number((cost / least - 1) * 100, 1) })
}

function Boards({ of: b }: { of: BoardPlan }) {
  const [all, setAll] = useState(false)
  const shown = all ? b.ways : b.ways.slice(0, 24)
  return (
    <section class="padded" aria-label={b.name}>
      <p class="facts">
        <span>{t('order.boards')} <b>{number(b.bought)}</b></span>
        <span>{b.stocks.map((s) => `${number(s.count)} × ${lengthUnit(s.width)} × ${lengthUnit(s.length)}`).join(', ')}</span>
        <span>{t('cutting.waste')} <b>{number(b.area > 0 ? (1 - b.net / b.area) * 100 : 0, 1)} %</b></span>
        <span>{t('cutting.plain', { n: b.plain })}</span>
        <span>{bound(Math.round(b.area * 1e6), Math.round(b.bound * 1e6))}</span>
      </p>
      {b.unmade && b.unmade.length > 0 && <p class="caution">{t('cutting.unmade', { n: b.unmade.length, list: b.unmade.slice(0, 12).join(', ') })}</p>}
      <div class="ways">{shown.map((w) => <WayPicture way={w} key={w.number} />)}</div>
      {shown.length < b.ways.length && <button onClick={() => setAll(true)}>{t('common.more', { n: b.ways.length - shown.length })}</button>}
    </section>
  )
}
