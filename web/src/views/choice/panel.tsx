// What a wall could be made of: what is asked, the build-ups that none betters, two of
// them side by side, and the walls that get the one chosen.

import { useEffect, useState } from 'preact/hooks'
import { call } from '../../api.ts'
import { computedRevision, project } from '../../state.ts'
import { number, t, word } from '../../show.ts'
import { Caution } from '../common/caution.tsx'
import { told } from '../common/load.ts'
import { measured } from '../common/measures.ts'
import { Apply } from './give.tsx'
import { Beside } from './beside.tsx'
import { DemandForm } from './demand.tsx'
import { StandingMark } from './standing.tsx'
import { measures } from './types.ts'
import type { Candidate, Chosen, Demand, Measure } from './types.ts'

export function ChoicePanel({ wall }: { wall: string }) {
  const [demand, setDemand] = useState<Demand | null>(null)
  const [rank, setRank] = useState<Measure | ''>('')
  const [chosen, setChosen] = useState<Chosen | null>(null)
  const [busy, setBusy] = useState(true)
  const [error, setError] = useState('')
  const [two, setTwo] = useState<readonly string[]>([])
  const [given, setGiven] = useState<Candidate | null>(null)
  const id = project.value?.id
  useEffect(() => {
    if (!id) return
    let wanted = true
    setBusy(true)
    call<Chosen>('POST', `projects/${encodeURIComponent(id)}/choose`, demand ? { demand, rank } : { wall, rank }).then(
      (c) => {
        if (!wanted) return
        setChosen(c)
        setError('')
        setBusy(false)
      },
      (e: unknown) => {
        if (!wanted) return
        setError(told(e).error)
        setBusy(false)
      },
    )
    return () => {
      wanted = false
    }
  }, [id, wall, demand, rank, computedRevision.value])
  const toggle = (words: string) => setTwo((s) => (s.includes(words) ? s.filter((x) => x !== words) : [...s.slice(-1), words]))
  const all = chosen ? [...chosen.front, ...chosen.near, ...chosen.relaxed] : []
  const pair = two.map((w) => all.find((c) => c.words === w)).filter((c) => c !== undefined)
  return (
    <div class="panel scroll choice" aria-busy={busy}>
      <Caution />
      {chosen && <DemandForm key={wall} of={demand ?? chosen.demand} wall={wall} onAsk={setDemand} />}
      {error && <p class="error" role="alert" lang="en">{error}</p>}
      {!chosen && !error && <p class="quiet">{t('choice.trying')}</p>}
      {chosen && (
        <>
          <div class="choice-head">
            <p role="status">{busy ? t('choice.trying') : t('choice.tried', { tried: chosen.tried, n: chosen.on_front })}</p>
            <label>
              {t('choice.rank')}{' '}
              <select value={chosen.rank} onChange={(e) => setRank(e.currentTarget.value as Measure)}>
                {measures.filter((m) => m !== 'cost' || chosen.priced).map((m) => <option value={m}>{t(`measure.${m}`)}</option>)}
              </select>
            </label>
          </div>
          {chosen.front.length === 0 && <p class="caution">{t('choice.none')}</p>}
          {chosen.why && <p lang="en" class="quiet">{chosen.why}</p>}
          <Candidates title={t('choice.front')} list={chosen.front} two={two} priced={chosen.priced} onTwo={toggle} onGive={setGiven} />
          {pair.length === 2 && pair[0] && pair[1] && <Beside a={pair[0]} b={pair[1]} priced={chosen.priced} />}
          {chosen.near.length > 0 && <Candidates title={t('choice.near')} list={chosen.near} two={two} priced={chosen.priced} onTwo={toggle} onGive={setGiven} />}
          {chosen.relaxed.length > 0 && <Candidates title={t('choice.relaxed')} list={chosen.relaxed} two={two} priced={chosen.priced} onTwo={toggle} onGive={setGiven} />}
        </>
      )}
      {given && <Apply candidate={given} wall={wall} onClose={() => setGiven(null)} />}
    </div>
  )
}

const unitOf: Record<Measure, string> = { thickness: 'mm', mass: 'kg/m²', labour: 'h/m²', carbon: 'kg CO2e/m²', cost: '' }
const digits: Record<Measure, number> = { thickness: 0, mass: 1, labour: 2, carbon: 1, cost: 2 }

export function measureHead(m: Measure): string {
  const unit = measured(1, unitOf[m]).unit
  return unit ? `${t(`measure.${m}`)}, ${unit}` : t(`measure.${m}`)
}

export function measureOf(c: Candidate, m: Measure): string {
  const x = c.measures[m]
  return x === undefined ? '–' : number(measured(x, unitOf[m]).value, digits[m])
}

interface ListProps {
  title: string
  list: readonly Candidate[]
  two: readonly string[]
  priced: boolean
  onTwo: (words: string) => void
  onGive: (c: Candidate) => void
}

function Candidates({ title, list, two, priced, onTwo, onGive }: ListProps) {
  if (list.length === 0) return null
  const shown = measures.filter((m) => m !== 'cost' || priced)
  return (
    <div class="table-frame" role="region" aria-label={title} tabIndex={0}>
      <table class="sheet candidates">
        <caption>{title}</caption>
        <thead>
          <tr>
            <th scope="col">{t('choice.compare')}</th>
            <th scope="col">{t('choice.buildup')}</th>
            {shown.map((m) => <th scope="col" class="number measure">{measureHead(m)}</th>)}
            <th scope="col">{t('choice.reasons')}</th>
          </tr>
        </thead>
        <tbody>
          {list.map((c) => (
            <tr>
              <td><input type="checkbox" checked={two.includes(c.words)} onChange={() => onTwo(c.words)} aria-label={t('choice.compare.of', { what: c.words })} /></td>
              <th scope="row">
                <span lang="en">{c.words}</span>
                <div class="candidate-foot"><StandingMark of={c.standing} /> <button onClick={() => onGive(c)}>{t('choice.give')}</button></div>
              </th>
              {shown.map((m) => <td class="number">{measureOf(c, m)}</td>)}
              <td><Reasons of={c} /></td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

function Reasons({ of: c }: { of: Candidate }) {
  return (
    <ul class="reasons">
      {c.without && (
        <li>
          {c.relaxed_to ? t('choice.relaxedto', { need: word('need', c.without), to: c.relaxed_to }) : t('choice.without', { need: word('need', c.without) })}
        </li>
      )}
      {c.needs.map((n) => (
        <li>
          <StandingMark of={n.standing} /> {word('need', n.about)} <span lang="en">{n.asked}</span>
          {n.got && <span lang="en">: {n.got}</span>}
          {n.by && <b lang="en">, {n.by}</b>}
          {n.open && n.open.length > 0 && (
            <details>
              <summary>{t('choice.open', { n: n.open.length })}</summary>
              <ul lang="en">{n.open.map((o) => <li>{o}</li>)}</ul>
            </details>
          )}
        </li>
      ))}
    </ul>
  )
}
