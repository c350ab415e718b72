package desk

import (
	"context"
	"path"
	"strings"

	"nogging/internal/exchange/xlsx"
	"nogging/internal/finding"
	"nogging/internal/store"
	"nogging/internal/words"
)

// FileEvent tells that a file of a project was changed, or removed.
type FileEvent struct {
	Kind string `json:"kind"`
	Name string `json:"name"`
}

// Files lists the project's files of a kind, without their content.
func (p *Project) Files(ctx context.Context, kind string) ([]store.File, error) {
	return p.desk.store.Files(ctx, p.id, kind)
}

// File gives a file of the project.
func (p *Project) File(ctx context.Context, kind, name string) (store.File, error) {
	return p.desk.store.File(ctx, p.id, kind, name)
}

// PutFile stores a file; one of the same kind and name is replaced. A workbook that
// cannot be read is refused.
func (p *Project) PutFile(ctx context.Context, f store.File) error {
	if strings.EqualFold(path.Ext(f.Name), ".xlsx") {
		if _, err := xlsx.Rows(f.Content, ""); err != nil {
			return &Refused{finding.List{{Code: "list-unread", Severity: finding.Error, Place: finding.Place{File: f.Name}, What: words.OfErr(err), Fix: "save it as a workbook (.xlsx) or as CSV again"}}}
		}
	}
	return p.filed(f.Kind, f.Name, p.desk.store.PutFile(ctx, p.id, f))
}

// NoteFile changes what is noted of a file.
func (p *Project) NoteFile(ctx context.Context, kind, name, note string) error {
	return p.filed(kind, name, p.desk.store.SetNote(ctx, p.id, kind, name, note))
}

// DeleteFile removes a file.
func (p *Project) DeleteFile(ctx context.Context, kind, name string) error {
	return p.filed(kind, name, p.desk.store.DeleteFile(ctx, p.id, kind, name))
}

// filed tells everybody of a change that was stored.
func (p *Project) filed(kind, name string, err error) error {
	if err == nil {
		p.listeners.tell(Event{Name: "file", Data: FileEvent{kind, name}})
		if kind == store.FilePrices || kind == store.FileTables {
			p.engine.refile()
		}
	}
	return err
}
