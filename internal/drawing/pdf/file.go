package pdf

import (
	"bufio"
	"crypto/sha256"
	"fmt"
	"hash"
	"io"
)

// file writes numbered objects and keeps where each begins.
type file struct {
	w       *bufio.Writer
	sum     hash.Hash // of all that was written
	at      int64
	offsets []int64 // of object n at n-1; 0 while it is not written
	err     error
}

// newFile begins a file whose first objects are written later, by number.
func newFile(w io.Writer, reserved int) *file {
	sum := sha256.New()
	f := &file{w: bufio.NewWriterSize(io.MultiWriter(w, sum), 1<<16), sum: sum, offsets: make([]int64, reserved)}
	f.print("%%PDF-1.7\n%%\xE2\xE3\xCF\xD3\n") // the second line marks the file as binary (7.5.2)
	return f
}

func (f *file) print(format string, args ...any) {
	n, err := fmt.Fprintf(f.w, format, args...)
	f.at += int64(n)
	if f.err == nil {
		f.err = err
	}
}

func (f *file) write(data []byte) {
	n, err := f.w.Write(data)
	f.at += int64(n)
	if f.err == nil {
		f.err = err
	}
}

// reserve sets n numbers aside and returns the first.
func (f *file) reserve(n int) int {
	first := len(f.offsets) + 1
	f.offsets = append(f.offsets, make([]int64, n)...)
	return first
}

// object writes an object and returns its number.
func (f *file) object(format string, args ...any) int {
	n := f.reserve(1)
	f.fixed(n, format, args...)
	return n
}

// fixed writes an object whose number is set aside.
func (f *file) fixed(n int, format string, args ...any) {
	f.offsets[n-1] = f.at
	f.print("%d 0 obj\n", n)
	f.print(format, args...)
	f.print("\nendobj\n")
}

// stream writes data that is compressed already, with further entries for its
// dictionary, and returns its number.
func (f *file) stream(entries string, data []byte) int {
	n := f.reserve(1)
	f.plainStream(n, "/Filter/FlateDecode"+entries, data)
	return n
}

// plainStream writes data as it is under a number that is set aside.
func (f *file) plainStream(n int, entries string, data []byte) {
	f.offsets[n-1] = f.at
	f.print("%d 0 obj\n<</Length %d%s>>\nstream\n", n, len(data), entries)
	f.write(data)
	f.print("\nendstream\nendobj\n")
}

// close writes the cross-reference table and the trailer (7.5.4, 7.5.5). The file's
// identifier (14.4) is made from what stands before it, so it is the same each time.
func (f *file) close(catalog, info int) error {
	if err := f.w.Flush(); f.err == nil {
		f.err = err
	}
	id := f.sum.Sum(nil)[:16]
	start := f.at
	f.print("xref\n0 %d\n0000000000 65535 f \n", len(f.offsets)+1)
	for _, at := range f.offsets {
		f.print("%010d 00000 n \n", at)
	}
	f.print("trailer\n<</Size %d/Root %d 0 R/Info %d 0 R/ID[<%X><%X>]>>\nstartxref\n%d\n%%%%EOF\n", len(f.offsets)+1, catalog, info, id, id, start)
	if err := f.w.Flush(); f.err == nil {
		f.err = err
	}
	return f.err
}
