// The place "Programme": when what is built by whom: bars over days, line of balance,
// what each gang does next, deliveries, inspections. The first day is chosen here.

import { useState } from 'preact/hooks'
import { refine, route } from '../../route.ts'
import { locale, number, t, word } from '../../show.ts'
import { quantity } from '../common/measures.ts'
import { useLoaded } from '../common/load.ts'
import { Table } from '../common/table.tsx'
import { Loading } from '../common/waiting.tsx'
import { Findings } from '../../shell/findings.tsx'
import type { Finding } from '../../api.ts'
import { Drawing } from '../wall/drawing.tsx'

interface Programme {
  start: string
  end?: string
  hours: number
  tasks: { id: string; name: string; planned: boolean }[] | null
  look_ahead: { gang: string; name?: string; tasks: { date: string; name: string; zone: string; group: string; walls: string[] | null; from: string; until: string; ready?: string }[] | null }[] | null
  call_offs: { zone: string; material: string; arrive: string; call: string; week: string; late?: boolean; mass: number }[] | null
  hold_points: { task: string; name: string; zone: string; walls: string[] | null; from?: string; announce?: string; show: string[] | null }[] | null
  findings?: Finding[]
  gantt: string[]
  balance: string[]
  gangs_assumed?: boolean
}

const shows = ['gantt', 'balance', 'look', 'deliveries', 'inspections'] as const

export default function ProgrammePlace() {
  const start = route.value.query.start ?? nextMonday()
  const loaded = useLoaded<Programme>(`programme?start=${start}`)
  return (
    <div class="programme-place">
      <header class="place-head">
        <h1>{t('programme.title')}</h1>
        <label class="programme-start">
          {t('programme.start')}
          <input type="date" value={start} onChange={(e) => e.currentTarget.value && refine({ start: e.currentTarget.value })} />
        </label>
        {loaded.value && (
          <p class="facts">
            <span>{t('programme.end')} <b>{loaded.value.end ? day(loaded.value.end) : '–'}</b></span>
            <span>{t('price.hours')} <b>{number(loaded.value.hours, 0)}</b></span>
          </p>
        )}
      </header>
      <Loading of={loaded}>{(p) => <Shown of={p} />}</Loading>
    </div>
  )
}

// The day on which work can begin: Monday of next week.
function nextMonday(): string {
  const d = new Date()
  d.setDate(d.getDate() + ((8 - d.getDay()) % 7 || 7))
  return `${d.getFullYear()}-${String(d.getMonth() + 1).padStart(2, '0')}-${String(d.getDate()).padStart(2, '0')}`
}

// Days and moments of the site, which have no time zone.
const day = (iso: string) => new Intl.DateTimeFormat(locale(), { weekday: 'short', day: 'numeric', month: 'short', timeZone: 'UTC' }).format(new Date(`${iso.slice(0, 10)}T00:00Z`))
const moment = (iso: string) => `${day(iso)} ${iso.slice(11, 16)}`

function Shown({ of: p }: { of: Programme }) {
  const [show, setShow] = useState<(typeof shows)[number]>('gantt')
  const open = (p.tasks ?? []).filter((x) => !x.planned).length
  return (
    <>
      {p.gangs_assumed && <p class="caution">{t('programme.assumed')}</p>}
      {open > 0 && <p class="caution">{t('programme.open', { n: open })}</p>}
      <div class="sections" role="group" aria-label={t('programme.title')}>
        {shows.map((id) => <button aria-pressed={id === show} onClick={() => setShow(id)}>{t(`programme.${id}`)}</button>)}
      </div>
      {show === 'gantt' && <Sheets of={p.gantt} name={t('programme.gantt')} />}
      {show === 'balance' && <Sheets of={p.balance} name={t('programme.balance')} />}
      {show === 'look' && p.look_ahead?.map((l) => <Look of={l} />)}
      {show === 'deliveries' && <Deliveries of={p} />}
      {show === 'inspections' && <Inspections of={p} />}
      {p.findings && p.findings.length > 0 && show !== 'gantt' && show !== 'balance' && <div class="padded"><Findings of={p.findings} /></div>}
    </>
  )
}

const none: ReadonlySet<string> = new Set()

function Sheets({ of, name }: { of: readonly string[]; name: string }) {
  const [n, setN] = useState(0)
  const svg = of[n] ?? of[0]
  if (!svg) return <p class="padded quiet">{t('programme.none')}</p>
  return (
    <div class="programme-sheets">
      {of.length > 1 && (
        <div class="sections" role="group" aria-label={t('programme.sheets')}>
          {of.map((_, i) => <button aria-pressed={i === n} onClick={() => setN(i)}>{t('programme.sheet', { n: i + 1 })}</button>)}
        </div>
      )}
      <Drawing sheet svg={svg} label={name} picked={null} hovered={null} hidden={none} onPick={() => undefined} onHover={() => undefined} onLayers={() => undefined} />
    </div>
  )
}

function Look({ of: l }: { of: NonNullable<Programme['look_ahead']>[number] }) {
  const title = l.name ?? l.gang
  return (
    <>
      <h2 class="padded" lang="en">{title}</h2>
      <Table caption={title} rows={l.tasks ?? []} id={(x) => `${x.from} ${x.group} ${x.name}`} columns={[
        { id: 'from', head: t('programme.from'), by: (x) => x.from, cell: (x) => <span class="once">{moment(x.from)}</span> },
        { id: 'until', head: t('programme.until'), by: (x) => x.until, cell: (x) => <span class="once">{moment(x.until)}</span> },
        { id: 'what', head: t('programme.what'), by: (x) => x.name, cell: (x) => word('stage', x.name) },
        { id: 'group', head: t('programme.group'), by: (x) => x.group, cell: (x) => x.group },
        { id: 'walls', head: t('changes.walls'), cell: (x) => x.walls?.join(', ') },
        { id: 'ready', head: t('programme.ready'), cell: (x) => <span lang="en">{x.ready}</span> },
      ]} />
    </>
  )
}

function Deliveries({ of: p }: { of: Programme }) {
  return (
    <Table caption={t('programme.deliveries')} rows={p.call_offs ?? []} id={(x) => `${x.zone} ${x.material}`} columns={[
      { id: 'call', head: t('programme.call'), by: (x) => x.call, cell: (x) => <>{day(x.call)}{x.late && <b class="error"> {t('programme.late')}</b>}</> },
      { id: 'arrive', head: t('programme.arrive'), by: (x) => x.arrive, cell: (x) => `${day(x.arrive)}, ${x.week}` },
      { id: 'zone', head: t('order.zone'), by: (x) => x.zone, cell: (x) => x.zone },
      { id: 'material', head: t('programme.material'), by: (x) => x.material, cell: (x) => word('supply', x.material) },
      { id: 'mass', head: t('material.mass'), number: true, by: (x) => x.mass, cell: (x) => quantity(x.mass, 'kg', 0) },
    ]} />
  )
}

function Inspections({ of: p }: { of: Programme }) {
  return (
    <Table caption={t('programme.inspections')} rows={p.hold_points ?? []} id={(x) => x.task} columns={[
      { id: 'from', head: t('programme.from'), by: (x) => x.from ?? '', cell: (x) => (x.from ? moment(x.from) : '–') },
      { id: 'announce', head: t('programme.announce'), by: (x) => x.announce ?? '', cell: (x) => (x.announce ? day(x.announce) : '–') },
      { id: 'what', head: t('programme.what'), by: (x) => x.name, cell: (x) => word('stage', x.name) },
      { id: 'walls', head: t('changes.walls'), cell: (x) => x.walls?.join(', ') },
      { id: 'show', head: t('programme.shown'), cell: (x) => <ul lang="en">{x.show?.map((s) => <li>{s}</li>)}</ul> },
    ]} />
  )
}
