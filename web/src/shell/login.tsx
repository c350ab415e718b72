// Asks for the password where the server wants one.

import { signal } from '@preact/signals'
import { useState } from 'preact/hooks'
import { api } from '../api.ts'
import { t } from '../show.ts'

export const locked = signal(false)

export function Login() {
  const [wrong, setWrong] = useState(false)
  const submit = (e: SubmitEvent) => {
    e.preventDefault()
    const password = new FormData(e.currentTarget as HTMLFormElement).get('password')
    api.login(String(password)).then(
      () => location.reload(),
      () => setWrong(true),
    )
  }
  return (
    <main class="login">
      <h1>nogging</h1>
      <form onSubmit={submit}>
        <label>
          {t('login.password')}
          <input type="password" name="password" autocomplete="current-password" autofocus />
        </label>
        {wrong && (
          <p class="error" role="alert">
            {t('login.wrong')}
          </p>
        )}
        <button class="main">{t('login.enter')}</button>
      </form>
    </main>
  )
}
