package ifc

import (
	"archive/zip"
	"bytes"
	"io"
	"path"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/words"
)

// Limits of archives. Models shrink to a fifth or a tenth when they are packed,
// very regular ones to a fiftieth; what unpacks to more was made to do harm.
const (
	mostUnpacked = 512 << 20 // bytes
	mostRatio    = 100       // bytes unpacked per byte packed
	freeUnpacked = 16 << 20  // bytes that may be unpacked whatever the ratio
	mostPacked   = 1000      // files in one archive
)

var (
	zipped    = []byte("PK\x03\x04")
	directory = []byte("PK\x01\x02") // before each entry of an archive's directory
)

// Unpack returns the one building model in a zip archive (.ifczip); any other
// file as it is. Where the archive does not hold exactly one model, or unpacks
// to far more than a model would, it returns a finding for which Refused holds.
func Unpack(name string, data []byte) ([]byte, finding.List) {
	if !bytes.HasPrefix(data, zipped) {
		return data, nil
	}
	refuse := func(what, fix words.Text) ([]byte, finding.List) {
		return nil, finding.List{{Code: refused, Severity: finding.Error, Place: finding.Place{File: name}, What: what, Fix: fix}}
	}
	const again = "unpack it and read the .ifc file inside"
	if n := bytes.Count(data, directory); n > mostPacked {
		return refuse(words.F("is a zip archive of %d files: at most %d are looked through", n, mostPacked), again)
	}
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return refuse("is a zip archive that is broken or cut short", "send it again, or unpack it and read the .ifc file inside")
	}
	models, others := modelsIn(archive)
	switch {
	case len(models) > 1:
		return refuse(words.F("is a zip archive of %d models: %s", len(models), strings.Join(models.names(), ", ")), "unpack it and read them one by one")
	case len(models) == 0 && others != "":
		return refuse(words.F("is a zip archive that holds %s, but no .ifc file", others), "pack the .ifc file by itself")
	case len(models) == 0:
		return refuse("is a zip archive without an .ifc file", askForModel)
	case models[0].Flags&1 != 0:
		return refuse("is a zip archive with a password", again)
	}
	most := min(mostUnpacked, max(freeUnpacked, mostRatio*int64(models[0].CompressedSize64)))
	text, err := unpacked(models[0], most)
	switch {
	case err != nil:
		return refuse(words.F("is a zip archive of which %s cannot be unpacked: %v", models[0].Name, words.OfErr(err)), "send it again, or unpack it and read the .ifc file inside")
	case int64(len(text)) > most:
		return refuse(words.F("is a zip archive of %d MB that unpacks to more than %d MB", len(data)>>20, most>>20), "check where it comes from; if it is meant, "+again)
	case bytes.HasPrefix(text, zipped):
		return refuse("is a zip archive in a zip archive", again)
	}
	return text, nil
}

// packed are files of an archive.
type packed []*zip.File

func (p packed) names() []string {
	const most = 5
	var names []string
	for _, f := range p[:min(len(p), most)] {
		names = append(names, f.Name)
	}
	if len(p) > most {
		names = append(names, "…")
	}
	return names
}

// modelsIn lists the models in an archive, and names what stands in the place of
// one. Folders, and what systems add to archives, are passed over.
func modelsIn(archive *zip.Reader) (models packed, others string) {
	for _, f := range archive.File {
		base := path.Base(strings.ReplaceAll(f.Name, `\`, "/"))
		if strings.HasSuffix(f.Name, "/") || strings.HasPrefix(base, ".") || strings.HasPrefix(f.Name, "__MACOSX/") {
			continue
		}
		switch strings.ToLower(path.Ext(base)) {
		case ".ifc":
			models = append(models, f)
		case ".ifczip", ".zip", ".ifcxml", ".xml", ".ifcjson":
			others = f.Name
		}
	}
	return models, others
}

// unpacked returns the text of a file, or one byte more than the most that is
// taken.
func unpacked(f *zip.File, most int64) ([]byte, error) {
	in, err := f.Open()
	if err != nil {
		return nil, err
	}
	defer in.Close()
	var out bytes.Buffer
	out.Grow(int(min(f.UncompressedSize64, uint64(most))) + bytes.MinRead)
	_, err = io.Copy(&out, io.LimitReader(in, most+1))
	return out.Bytes(), err
}
