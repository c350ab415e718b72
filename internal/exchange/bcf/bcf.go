// Package bcf writes topics for others in the BIM Collaboration Format 2.1 of
// buildingSMART, as a .bcfzip archive. It takes topics with the components of a building
// model that they are about and a view of them, and gives a folder for each with its
// markup.bcf and viewpoint.bcfv. The order of elements is that of the schemas markup.xsd
// and visinfo.xsd; files are not held against those in the tests.
//
// Ids are made of the topics' keys, and dates come from outside: the same topics give the
// same bytes, and a topic that is written again is the same topic.
package bcf

import (
	"archive/zip"
	"crypto/sha1"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strings"
	"time"
)

// Project is what the topics belong to.
type Project struct {
	Key    string // makes its id
	Name   string
	Model  string    // id of the IfcProject, 22 characters
	Author string    // who writes the topics
	Date   time.Time // when
}

// Topic is something to be settled.
type Topic struct {
	Key         string // makes its id: two topics of a project have different keys
	Title       string
	Type        string // such as Clash or Request
	Priority    string // such as High
	Label       string // whom it concerns
	Description string
	Components  []string // ids of IfcRoot, 22 characters
	View        *View    // nil for none
}

// View looks at a place. Coordinates are metres in the model's own axes.
type View struct {
	Eye, Along, Up [3]float64
}

// field is the angle of view in degrees: BCF 2.1 asks for 45 to 60.
const field = 60

// Toward looks along a level direction at what is so high and wide about a place, so that
// all of it is seen.
func Toward(place [3]float64, along [2]float64, wide, high float64) *View {
	away := max(wide, high, 1)/2/math.Tan(field/2*math.Pi/180) + 1
	return &View{
		Eye:   [3]float64{place[0] - along[0]*away, place[1] - along[1]*away, place[2]},
		Along: [3]float64{along[0], along[1], 0},
		Up:    [3]float64{0, 0, 1},
	}
}

// Down looks down at what is so wide and deep about a place, with y up.
func Down(place [3]float64, wide, deep float64) *View {
	away := max(wide, deep, 1)/2/math.Tan(field/2*math.Pi/180) + 1
	return &View{Eye: [3]float64{place[0], place[1], place[2] + away}, Along: [3]float64{0, 0, -1}, Up: [3]float64{0, 1, 0}}
}

// GUID makes an id of what names a thing (a name-based UUID, RFC 9562 version 5).
func GUID(names ...string) string {
	id := sha1.Sum([]byte("nogging bcf\x00" + strings.Join(names, "\x00")))
	id[6], id[8] = id[6]&0x0f|0x50, id[8]&0x3f|0x80
	return fmt.Sprintf("%x-%x-%x-%x-%x", id[0:4], id[4:6], id[6:8], id[8:10], id[10:16])
}

// Write writes the archive. Topics of a key that was written already are left out.
func Write(out io.Writer, p Project, topics []Topic) error {
	z := zip.NewWriter(out)
	a := &archive{z: z, project: p}
	a.file("bcf.version", version{ID: "2.1", Detailed: "2.1"})
	a.file("project.bcfp", projectExtension{Project: projectOf{ID: GUID(p.Key), Name: p.Name}})
	written := map[string]bool{}
	for i := range topics {
		if t := &topics[i]; !written[t.Key] {
			written[t.Key] = true
			a.topic(t, len(written))
		}
	}
	if a.err != nil {
		return a.err
	}
	return z.Close()
}

// archive writes files until one fails.
type archive struct {
	z       *zip.Writer
	project Project
	err     error
}

func (a *archive) file(name string, content any) {
	if a.err != nil {
		return
	}
	w, err := a.z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate})
	if err == nil {
		_, err = io.WriteString(w, xml.Header)
	}
	if err == nil {
		e := xml.NewEncoder(w)
		e.Indent("", "  ")
		err = e.Encode(content)
	}
	a.err = err
}

// topic writes the folder of a topic.
func (a *archive) topic(t *Topic, number int) {
	id := GUID(a.project.Key, t.Key)
	m := markup{Topic: topic{
		ID: id, Type: t.Type, Status: "Open", Title: clean(t.Title), Priority: t.Priority, Index: number, Description: clean(t.Description),
		Date: a.project.Date.UTC().Format(time.RFC3339), Author: a.project.Author,
	}}
	if t.Label != "" {
		m.Topic.Labels = []string{t.Label}
	}
	if a.project.Model != "" {
		m.Header = &header{Files: []modelFile{{Project: a.project.Model}}}
	}
	view := GUID(a.project.Key, t.Key, "view")
	if t.View != nil {
		m.Viewpoints = []viewpoint{{ID: view, File: "viewpoint.bcfv"}}
	}
	a.file(id+"/markup.bcf", m)
	if t.View != nil {
		a.file(id+"/viewpoint.bcfv", visualization(view, t))
	}
}

// clean takes out what XML 1.0 cannot hold.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' && r != '\n' && r != '\t' || r == 0xfffe || r == 0xffff {
			return -1
		}
		return r
	}, s)
}

func visualization(id string, t *Topic) visualizationInfo {
	v := visualizationInfo{ID: id, Components: components{Visibility: visibility{Default: true}}}
	if len(t.Components) > 0 {
		s := &selection{}
		for _, c := range t.Components {
			s.Components = append(s.Components, component{IfcGUID: c, Origin: "nogging"})
		}
		v.Components.Selection = s
	}
	v.Camera = camera{Eye: xyz(t.View.Eye), Along: xyz(t.View.Along), Up: xyz(t.View.Up), Field: field}
	return v
}

func xyz(p [3]float64) vector { return vector{p[0], p[1], p[2]} }
