// What happens to a project, told by the server as events. Browsers hold six
// connections to a server and a stream takes one for itself, so the tabs on one
// project share one: the tab that holds a lock listens and passes on to the others
// what it hears. When it goes, the next tab takes the lock and goes on from the
// revision that it knows.

type Told = (name: string, data: string) => void

interface Listening {
  url: (after: number) => string
  names: readonly string[]
  after: () => number // the revision that this tab knows
  told: Told
  link: (live: boolean) => void
}

// What tabs say to each other. `hello` is from one that comes in and asks how things
// stand; `here` answers it.
type Word = { say: 'event'; name: string; data: string } | { say: 'link'; live: boolean } | { say: 'hello' } | { say: 'here'; revision: number; live: boolean }

// Listens until the function given back is called. Where the browser has no locks, as
// without a secure connection, each tab listens for itself.
export function listen(project: string, l: Listening): () => void {
  if (!navigator.locks || typeof BroadcastChannel === 'undefined') return connect(l, l.told, l.link)
  const name = `nogging.events.${project}`
  let stop = share(name, l)
  // A page that the browser keeps for going back to must not hold the lock.
  const hide = () => stop()
  const show = (e: PageTransitionEvent) => {
    if (e.persisted) stop = share(name, l)
  }
  addEventListener('pagehide', hide)
  addEventListener('pageshow', show)
  return () => {
    stop()
    removeEventListener('pagehide', hide)
    removeEventListener('pageshow', show)
  }
}

function share(name: string, l: Listening): () => void {
  const channel = new BroadcastChannel(name)
  const ended = new AbortController()
  const say = (w: Word) => channel.postMessage(w)
  let leads = false
  let live = false
  channel.onmessage = ({ data: w }: MessageEvent<Word>) => {
    if (w.say === 'hello' && leads) say({ say: 'here', revision: l.after(), live })
    else if (leads) return
    else if (w.say === 'event') l.told(w.name, w.data)
    else if (w.say === 'link') l.link(w.live)
    else if (w.say === 'here') welcomed(w.revision, w.live)
  }
  // What was told between this tab's reading of the project and now is missed.
  let greeted = false
  const welcomed = (revision: number, isLive: boolean) => {
    if (greeted) return
    greeted = true
    l.link(isLive)
    l.told('state', JSON.stringify({ revision, reload: revision > l.after() }))
  }
  const lead = () =>
    new Promise<void>((done) => {
      leads = greeted = true
      const close = connect(
        l,
        (event, data) => (say({ say: 'event', name: event, data }), l.told(event, data)),
        (now) => (say({ say: 'link', live: (live = now) }), l.link(now)),
      )
      ended.signal.addEventListener('abort', () => (close(), done()))
    })
  navigator.locks.request(name, { signal: ended.signal }, lead).catch(() => undefined) // given up while it waited
  say({ say: 'hello' })
  return () => {
    ended.abort()
    channel.close()
  }
}

// A stream of one's own. The browser reconnects by itself and tells the server the
// last revision that it saw.
function connect(l: Listening, told: Told, link: (live: boolean) => void): () => void {
  const source = new EventSource(l.url(l.after()))
  source.onopen = () => link(true)
  source.onerror = () => link(false)
  for (const name of l.names) source.addEventListener(name, (e) => told(name, (e as MessageEvent<string>).data))
  return () => source.close()
}
