// Where somebody else changed what this page changed too: both versions side by
// side, and the person chooses. And where the server refused an edit: why.

import { project } from '../state.ts'
import { dismissRefusal, settle } from '../sync.ts'
import { t } from '../show.ts'
import { Dialog } from './dialog.tsx'

export function ConflictDialog() {
  const c = project.value?.conflict
  if (!c) return null
  return (
    <Dialog title={t('conflict.title')} wide>
      <p>{t('conflict.what', { label: c.edit.label })}</p>
      {c.theirs.map((their) => {
        const mine = c.edit.changes.find((m) => m.kind === their.kind && m.id === their.id)
        return <Both id={their.id || their.kind} mine={mine?.value ?? null} theirs={their.value} />
      })}
      <div class="buttons">
        <button class="main" onClick={() => void settle('mine')}>
          {t('conflict.mine')}
        </button>
        <button onClick={() => void settle('theirs')}>{t('conflict.theirs')}</button>
      </div>
    </Dialog>
  )
}

function Both(p: { id: string; mine: unknown; theirs: unknown }) {
  return (
    <table class="both">
      <caption>{p.id}</caption>
      <thead>
        <tr>
          <th scope="col">{t('conflict.field')}</th>
          <th scope="col">{t('conflict.yours')}</th>
          <th scope="col">{t('conflict.others')}</th>
        </tr>
      </thead>
      <tbody>
        {differing(p.mine, p.theirs).map(([field, mine, theirs]) => (
          <tr>
            <th scope="row">{field}</th>
            <td>{mine}</td>
            <td>{theirs}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

// The fields in which two versions of an object differ, as texts.
function differing(mine: unknown, theirs: unknown): [string, string, string][] {
  if (!isObject(mine) || !isObject(theirs)) return [['', told(mine), told(theirs)]]
  const fields = [...new Set([...Object.keys(mine), ...Object.keys(theirs)])]
  return fields.map((f) => [f, told(mine[f]), told(theirs[f])] as [string, string, string]).filter(([, a, b]) => a !== b)
}

const isObject = (v: unknown): v is Record<string, unknown> => typeof v === 'object' && v !== null && !Array.isArray(v)

function told(v: unknown): string {
  if (v === null) return t('conflict.removed')
  if (v === undefined) return '–'
  return typeof v === 'string' ? v : JSON.stringify(v).replace(/"/g, '').replace(/,/g, ', ')
}

export function RefusedDialog() {
  const r = project.value?.refused
  if (!r) return null
  return (
    <Dialog title={t('refused.title')} onClose={dismissRefusal}>
      <p>{t('refused.what', { label: r.edit.label })}</p>
      <p class="error">{r.detail}</p>
      <div class="buttons">
        <button class="main" onClick={dismissRefusal}>
          {t('shell.understood')}
        </button>
      </div>
    </Dialog>
  )
}
