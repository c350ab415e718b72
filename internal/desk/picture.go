package desk

import (
	"context"
	"errors"
	"strconv"

	"nogging/internal/store"
)

// Picture gives the small picture of a project's newest plan, as SVG, with its
// revision. It is drawn once a revision and kept.
func (d *Desk) Picture(ctx context.Context, id string) ([]byte, int64, error) {
	head, err := d.store.Project(ctx, id)
	if err != nil {
		return nil, 0, err
	}
	f, err := d.store.File(ctx, id, store.FilePicture, "small")
	if err == nil && f.Note == strconv.FormatInt(head.Revision, 10) {
		return f.Content, head.Revision, nil
	}
	if err != nil && !errors.Is(err, store.ErrNotFound) {
		return nil, 0, err
	}
	select { // a list of projects asks for many at once
	case d.drawing <- struct{}{}:
		defer func() { <-d.drawing }()
	case <-ctx.Done():
		return nil, 0, ctx.Err()
	}
	p, err := d.Open(ctx, id)
	if err != nil {
		return nil, 0, err
	}
	defer p.Done()
	now, err := p.Current(ctx, head.Revision)
	if err != nil {
		return nil, 0, err
	}
	text := now.Picture()
	err = d.store.PutFile(ctx, id, store.File{Kind: store.FilePicture, Name: "small", Type: "image/svg+xml", Note: strconv.FormatInt(now.Revision, 10), Content: text})
	return text, now.Revision, err
}
