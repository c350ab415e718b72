package desk

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"runtime/debug"
	"sync"
	"time"

	"nogging/internal/app"
)

// States of a job.
const (
	JobRunning = "running"
	JobDone    = "done"
	JobFailed  = "failed"
	JobStopped = "stopped"
)

// Job is long work on a project of which a person sees how far it is.
type Job struct {
	ID       string `json:"id"`
	Kind     string `json:"kind"`
	Revision int64  `json:"revision"`
	Work     string `json:"work,omitempty"` // what is done at the moment
	Done     int    `json:"done"`
	Total    int    `json:"total"`
	State    string `json:"state"`
	Bytes    int    `json:"bytes,omitempty"` // of the result
}

const (
	mostJobs  = 8                      // of a project that are remembered; the oldest that has ended makes room
	mostBytes = 1 << 30                // of a result
	tellEvery = 100 * time.Millisecond // progress
)

// jobs are the jobs of a project. The zero value is ready.
type jobs struct {
	mu   sync.Mutex
	next int
	list []*job
}

type job struct {
	Job
	stop   context.CancelFunc
	told   time.Time
	result []byte
}

// ErrTooManyJobs says that as many jobs run already as may.
var ErrTooManyJobs = errors.New("other long work on this project is not done yet; wait for it or stop it")

// StartPack starts to make the pack of the newest revision.
func (p *Project) StartPack(ctx context.Context, c app.PackChoice) (Job, error) {
	now, err := p.Settled(ctx, p.State().Revision)
	if err != nil {
		return Job{}, err
	}
	ctx, stop := context.WithCancel(context.Background())
	j, err := p.jobs.add("pack", now.Revision, stop)
	if err != nil {
		stop()
		return Job{}, err
	}
	p.hold()
	go func() {
		defer p.Done()
		defer stop()
		p.desk.packing <- struct{}{} // one pack at a time keeps processors for those who draw
		defer func() { <-p.desk.packing }()
		out := &bounded{ctx: ctx}
		err := p.pack(ctx, now, c, j, out)
		p.end(j, out.Bytes(), err)
	}()
	return j.Job, nil
}

// pack makes a pack; a fault in it must not take the server with it.
func (p *Project) pack(ctx context.Context, now Current, c app.PackChoice, j *job, out *bounded) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%v\n%s", r, debug.Stack())
		}
	}()
	if err := ctx.Err(); err != nil {
		return err
	}
	return now.Pack(ctx, c, func(work string, done, total int) { p.progress(j, work, done, total) }, out)
}

// bounded keeps what is written, up to a limit and until it is stopped.
type bounded struct {
	bytes.Buffer
	ctx context.Context
}

func (b *bounded) Write(text []byte) (int, error) {
	if err := b.ctx.Err(); err != nil {
		return 0, err
	}
	if b.Len()+len(text) > mostBytes {
		return 0, errors.New("the file would be larger than 1 GB; choose fewer parts or levels")
	}
	return b.Buffer.Write(text)
}

// add makes a job, if there is room for it.
func (l *jobs) add(kind string, revision int64, stop context.CancelFunc) (*job, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if len(l.list) >= mostJobs {
		i := 0
		for i < len(l.list) && l.list[i].State == JobRunning {
			i++
		}
		if i == len(l.list) {
			return nil, ErrTooManyJobs
		}
		l.list = append(l.list[:i:i], l.list[i+1:]...)
	}
	l.next++
	j := &job{Job: Job{ID: fmt.Sprint(l.next), Kind: kind, Revision: revision, State: JobRunning}, stop: stop}
	l.list = append(l.list, j)
	return j, nil
}

// progress notes how far a job is, and tells it now and then.
func (p *Project) progress(j *job, work string, done, total int) {
	p.jobs.mu.Lock()
	j.Work, j.Done, j.Total = work, done, total
	tell := time.Since(j.told) >= tellEvery
	if tell {
		j.told = time.Now()
	}
	now := j.Job
	p.jobs.mu.Unlock()
	if tell {
		p.listeners.tell(Event{Name: "job", Data: now})
	}
}

// end notes how a job ended.
func (p *Project) end(j *job, result []byte, err error) {
	p.jobs.mu.Lock()
	switch {
	case err == nil:
		j.State, j.result, j.Bytes, j.Done = JobDone, result, len(result), j.Total
	case errors.Is(err, context.Canceled):
		j.State = JobStopped
	default:
		j.State = JobFailed
		p.desk.log.Error("a job failed", "project", p.id, "kind", j.Kind, "error", err)
	}
	now := j.Job
	p.jobs.mu.Unlock()
	p.listeners.tell(Event{Name: "job", Data: now})
}

// Jobs lists the project's jobs, the oldest first.
func (p *Project) Jobs() []Job {
	p.jobs.mu.Lock()
	defer p.jobs.mu.Unlock()
	list := []Job{}
	for _, j := range p.jobs.list {
		list = append(list, j.Job)
	}
	return list
}

// Job gives one job with its result, if it is done.
func (p *Project) Job(id string) (_ Job, result []byte, found bool) {
	p.jobs.mu.Lock()
	defer p.jobs.mu.Unlock()
	for _, j := range p.jobs.list {
		if j.ID == id {
			return j.Job, j.result, true
		}
	}
	return Job{}, nil, false
}

// StopJob stops a job that runs, and forgets one that has ended.
func (p *Project) StopJob(id string) (found bool) {
	p.jobs.mu.Lock()
	defer p.jobs.mu.Unlock()
	for i, j := range p.jobs.list {
		if j.ID != id {
			continue
		}
		if j.State != JobRunning {
			p.jobs.list = append(p.jobs.list[:i:i], p.jobs.list[i+1:]...)
		}
		j.stop()
		return true
	}
	return false
}

// stopAll stops every job.
func (l *jobs) stopAll() {
	l.mu.Lock()
	defer l.mu.Unlock()
	for _, j := range l.list {
		j.stop()
	}
}
