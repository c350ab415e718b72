package server

import (
	"bytes"
	"image"
	_ "image/jpeg" // the kinds of pictures that are taken
	_ "image/png"
	"io"
	"net/http"
	"time"
)

const (
	maxPicture = 32 << 20   // bytes
	maxPixels  = 50_000_000 // of a picture: an A1 sheet at 200 dpi has 31 million
	maxSide    = 20_000     // pixels
	maxTable   = 8 << 20    // bytes of a price list or a catalogue
)

// slowest is how many bytes a second are waited for, beyond the patience that each
// request has.
const slowest = 64 << 10

// allowance is how long so many bytes may take.
func allowance(size int64) time.Duration {
	return patience + time.Duration(size/slowest)*time.Second
}

// upload reads a body of at most so many bytes, in the time that its size needs.
// Few are read at once, since each is held whole.
func (s *Server) upload(w http.ResponseWriter, r *http.Request, most int64) ([]byte, error) {
	if r.ContentLength > most {
		return nil, &http.MaxBytesError{Limit: most}
	}
	select {
	case s.uploads <- struct{}{}:
		defer func() { <-s.uploads }()
	default:
		w.Header().Set("Retry-After", "5")
		return nil, refuse(http.StatusServiceUnavailable, "other files are being taken in; try again in a moment")
	}
	size := r.ContentLength
	if size < 0 {
		size = most
	}
	if err := http.NewResponseController(w).SetReadDeadline(time.Now().Add(allowance(size))); err != nil {
		return nil, err
	}
	return io.ReadAll(http.MaxBytesReader(w, r.Body, most))
}

// picture gives the media type of a picture that can be laid under a plan. Only
// its head is decoded: what it would unpack to is judged before anybody does so.
func picture(data []byte) (string, error) {
	c, kind, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return "", refuse(http.StatusUnsupportedMediaType, "this is no PNG or JPEG picture; pages of PDF files are turned into pictures by the page")
	}
	if c.Width > maxSide || c.Height > maxSide || c.Width*c.Height > maxPixels {
		return "", refuse(http.StatusRequestEntityTooLarge, "the picture has %d by %d pixels; at most %d million, and %d on a side, can be taken", c.Width, c.Height, maxPixels/1_000_000, maxSide)
	}
	return "image/" + kind, nil
}
