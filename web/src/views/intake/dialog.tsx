// A schedule or a survey before it is taken in: what it changes, which columns were
// taken for what, and what was found. Taken in, it is one edit.

import { useEffect, useState } from 'preact/hooks'
import { ApiError, call } from '../../api.ts'
import type { Finding } from '../../api.ts'
import { Dialog } from '../../shell/dialog.tsx'
import { Findings } from '../../shell/findings.tsx'
import { lengthUnit, t } from '../../show.ts'
import { project } from '../../state.ts'
import { edit, failed } from '../../sync.ts'
import { Changed, Deviating } from './preview.tsx'
import type { Ask, Intake } from './types.ts'

export default function IntakeDialog({ file, onClose }: { file: File; onClose: () => void }) {
  const [ask, setAsk] = useState<Ask>({ name: file.name })
  const [got, setGot] = useState<Intake | null>(null)
  const [wrong, setWrong] = useState<{ detail: string; findings: Finding[] } | null>(null)
  const s = project.value
  useEffect(() => {
    let late = false
    if (!s) return
    call<Intake>('POST', `projects/${encodeURIComponent(s.id)}/intake?at=${s.revision}`, new Blob([`${JSON.stringify(ask)}\n`, file])).then(
      (i) => {
        if (late) return
        setGot(i)
        setWrong(null)
      },
      (e: unknown) => late || setWrong({ detail: e instanceof Error ? e.message : String(e), findings: e instanceof ApiError ? (e.body.findings ?? []) : [] }),
    )
    return () => (late = true)
  }, [ask, s?.revision])
  const apply = () => {
    if (!s || !got) return
    edit({ label: t('intake.edit', { file: file.name }), changes: got.changes })
    if (ask.columns || ask.values || ask.unit) void keep(s.id, got)
    onClose()
  }
  return (
    <Dialog title={t('intake.title', { file: file.name })} onClose={onClose} wide>
      {wrong && (
        <>
          <p class="error">{wrong.detail}</p>
          <Findings of={wrong.findings} />
        </>
      )}
      {!got && !wrong && <p role="status">{t('intake.reading', { file: file.name })}</p>}
      {got && !wrong && <Read i={got} ask={ask} onAsk={setAsk} />}
      <div class="buttons">
        {got && !wrong && (
          <button class="main" disabled={got.changes.length === 0} onClick={apply}>
            {t('intake.apply', { n: got.changes.length })}
          </button>
        )}
        <button onClick={onClose}>{t('shell.cancel')}</button>
      </div>
    </Dialog>
  )
}

// Keeps with the project what was said of the columns.
const keep = (id: string, got: Intake) =>
  call('PUT', `projects/${encodeURIComponent(id)}/tables/${got.file}`, new Blob([got.remember], { type: 'application/yaml' })).catch(failed)

function Read({ i, ask, onAsk }: { i: Intake; ask: Ask; onAsk: (a: Ask) => void }) {
  const known = i.columns.some((c) => c.head !== '')
  return (
    <>
      <div class="entries two">
        <Choice label={t('intake.kind')} value={i.kind} options={[['schedule', t('intake.kind.schedule')], ['survey', t('intake.kind.survey')]]} onChange={(kind) => onAsk({ name: ask.name, kind })} />
        <Choice label={t('intake.unit')} value={i.unit} options={i.units.map((u) => [u, t(`drawing.unit.${u}`)])} onChange={(unit) => onAsk({ ...ask, kind: i.kind, unit })} />
      </div>
      <details class="section" open={!known || i.changes.length === 0 || ask.columns !== undefined}>
        <summary>{t('intake.columns')}</summary>
        <p class="quiet">{t('intake.columns.what')}</p>
        <div class="entries two">
          {i.columns.map((c) => (
            <Choice
              key={c.field}
              label={t(`intake.field.${c.field}`)}
              value={ask.columns?.[c.field] ?? c.head}
              options={[['', t('intake.column.none')], ...i.heads.map((h) => [h, h] as [string, string])]}
              onChange={(head) => onAsk({ ...ask, kind: i.kind, columns: { ...ask.columns, [c.field]: head } })}
            />
          ))}
        </div>
      </details>
      {i.schedule && i.schedule.unread.length > 0 && <Words i={i} ask={ask} onAsk={onAsk} />}
      {i.schedule && <Changed of={i.schedule.changes} />}
      {i.survey && (
        <>
          <p>{t('intake.bent', { n: i.survey.walls?.length ?? 0, bent: i.survey.walls?.filter((w) => w.bent).length ?? 0, moved: i.survey.moved_structure?.length ?? 0 })}</p>
          <Deviating of={i.survey.deviations ?? []} tolerance={lengthUnit(i.survey.tolerance)} />
        </>
      )}
      {i.findings.length > 0 && (
        <details class="section" open={i.changes.length === 0}>
          <summary>{t('intake.findings', { n: i.findings.length })}</summary>
          <Findings of={i.findings} />
        </details>
      )}
    </>
  )
}

function Choice(p: { label: string; value: string; options: [string, string][]; onChange: (v: string) => void }) {
  return (
    <label class="entry">
      <span>{p.label}</span>
      <select value={p.value} onChange={(e) => p.onChange((e.currentTarget as HTMLSelectElement).value)}>
        {p.options.map(([v, text]) => (
          <option value={v}>{text}</option>
        ))}
      </select>
    </label>
  )
}

// Fields for the words that plans do not know.
function Words({ i, ask, onAsk }: { i: Intake; ask: Ask; onAsk: (a: Ask) => void }) {
  const submit = (e: SubmitEvent) => {
    e.preventDefault()
    const form = new FormData(e.currentTarget as HTMLFormElement)
    const values = structuredClone(ask.values ?? {})
    i.schedule?.unread.forEach((w, k) => {
      const means = String(form.get(String(k)) ?? '').trim()
      if (means) values[w.field] = { ...values[w.field], [w.text]: means }
    })
    onAsk({ ...ask, kind: i.kind, values })
  }
  return (
    <form onSubmit={submit} class="section">
      <h3>{t('intake.words')}</h3>
      <p class="quiet">{t('intake.words.what')}</p>
      <div class="entries two">
        {i.schedule?.unread.map((w, k) => (
          <label class="entry" key={`${w.field} ${w.text}`}>
            <span>{t('intake.word', { field: t(`intake.field.${w.field}`), text: w.text })}</span>
            <input name={String(k)} />
          </label>
        ))}
      </div>
      <button>{t('intake.again')}</button>
    </form>
  )
}
