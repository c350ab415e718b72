package bcf_test

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"nogging/internal/exchange/bcf"
)

var project = bcf.Project{Key: "7", Name: "Clinic <&>", Model: "0123456789012345678901", Author: "nogging", Date: time.Date(2027, 1, 11, 8, 0, 0, 0, time.FixedZone("", 3600))}

func topics() []bcf.Topic {
	return []bcf.Topic{
		{Key: "a", Title: "L1-01 & \"L1-02\" <cross>", Type: "Clash", Priority: "High", Label: "Architect", Description: "two\nlines\x01", Components: []string{"3aaaaaaaaaaaaaaaaaaaaa", "2$bbbbbbbbbbbbbbbbb___"}, View: bcf.Toward([3]float64{10, 20, 1.3}, [2]float64{0, -1}, 6, 2.6)},
		{Key: "b", Title: "second", Type: "Request", Priority: "Low"},
		{Key: "a", Title: "twice"},
	}
}

func unzip(t *testing.T, data []byte) (names []string, files map[string]string) {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	files = map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		names, files[f.Name] = append(names, f.Name), string(text)
	}
	return names, files
}

// children lists the elements under each element of a document, in their order.
func children(t *testing.T, text string) map[string][]string {
	t.Helper()
	found := map[string][]string{}
	var path []string
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		token, err := d.Token()
		if err == io.EOF {
			return found
		}
		if err != nil {
			t.Fatal(err)
		}
		switch x := token.(type) {
		case xml.StartElement:
			if n := len(path); n > 0 {
				found[path[n-1]] = append(found[path[n-1]], x.Name.Local)
			}
			path = append(path, x.Name.Local)
		case xml.EndElement:
			path = path[:len(path)-1]
		}
	}
}

// order is that of the sequences in buildingSMART's markup.xsd and visinfo.xsd of BCF 2.1.
var order = map[string][]string{
	"Markup":            {"Header", "Topic", "Comment", "Viewpoints"},
	"Topic":             {"ReferenceLink", "Title", "Priority", "Index", "Labels", "CreationDate", "CreationAuthor", "ModifiedDate", "ModifiedAuthor", "DueDate", "AssignedTo", "Stage", "Description", "BimSnippet", "DocumentReference", "RelatedTopic"},
	"Viewpoints":        {"Viewpoint", "Snapshot", "Index"},
	"VisualizationInfo": {"Components", "OrthogonalCamera", "PerspectiveCamera", "Lines", "ClippingPlanes", "Bitmap"},
	"Components":        {"ViewSetupHints", "Selection", "Visibility", "Coloring"},
	"Component":         {"OriginatingSystem", "AuthoringToolId"},
	"PerspectiveCamera": {"CameraViewPoint", "CameraDirection", "CameraUpVector", "FieldOfView"},
	"CameraViewPoint":   {"X", "Y", "Z"}, "CameraDirection": {"X", "Y", "Z"}, "CameraUpVector": {"X", "Y", "Z"},
	"ProjectExtension": {"Project", "ExtensionSchema"}, "Version": {"DetailedVersion"}, "Selection": {"Component"}, "Header": {"File"}, "Project": {"Name"},
}

// TestFiles: the archive holds what BCF 2.1 asks for: bcf.version, and for each topic a
// folder named by its id, with markup.bcf and the viewpoint that it names; elements are
// those of the schemas in their order, with all that is required.
func TestFiles(t *testing.T) {
	var out bytes.Buffer
	if err := bcf.Write(&out, project, topics()); err != nil {
		t.Fatal(err)
	}
	names, files := unzip(t, out.Bytes())
	if len(names) != 5 || !slices.Contains(names, "bcf.version") || !slices.Contains(names, "project.bcfp") {
		t.Fatal(names)
	}
	for name, text := range files {
		for parent, list := range children(t, text) {
			at := 0
			for _, child := range list {
				i := slices.Index(order[parent], child)
				if i < at {
					t.Errorf("%s: %s in %s stands where it may not: %v", name, child, parent, list)
				}
				at = max(i, 0)
			}
		}
	}
	var m struct {
		Header struct {
			File struct {
				IfcProject string `xml:",attr"`
			}
		}
		Topic struct {
			GUID                                                               string `xml:"Guid,attr"`
			TopicType, TopicStatus                                             string `xml:",attr"`
			Title, Priority, Labels, CreationDate, CreationAuthor, Description string
		}
		Viewpoints struct {
			GUID      string `xml:"Guid,attr"`
			Viewpoint string
		}
	}
	id := bcf.GUID("7", "a")
	if err := xml.Unmarshal([]byte(files[id+"/markup.bcf"]), &m); err != nil {
		t.Fatal(err, names)
	}
	got := fmt.Sprintf("%+v", m.Topic)
	want := "{GUID:" + id + " TopicType:Clash TopicStatus:Open Title:L1-01 & \"L1-02\" <cross> Priority:High Labels:Architect CreationDate:2027-01-11T07:00:00Z CreationAuthor:nogging Description:two\nlines}"
	if got != want || m.Header.File.IfcProject != project.Model {
		t.Errorf("%s\nwant %s", got, want)
	}
	var v struct {
		GUID       string `xml:"Guid,attr"`
		Components struct {
			Selection struct {
				Component []struct {
					IfcGUID string `xml:"IfcGuid,attr"`
				}
			}
			Visibility struct {
				DefaultVisibility string `xml:",attr"`
			}
		}
		PerspectiveCamera struct {
			CameraViewPoint, CameraDirection, CameraUpVector struct{ X, Y, Z float64 }
			FieldOfView                                      float64
		}
	}
	if err := xml.Unmarshal([]byte(files[id+"/"+m.Viewpoints.Viewpoint]), &v); err != nil {
		t.Fatal(err)
	}
	if v.GUID != m.Viewpoints.GUID || len(v.Components.Selection.Component) != 2 || v.Components.Selection.Component[1].IfcGUID != "2$bbbbbbbbbbbbbbbbb___" || v.Components.Visibility.DefaultVisibility != "true" {
		t.Errorf("%+v", v)
	}
	c := v.PerspectiveCamera
	if c.FieldOfView < 45 || c.FieldOfView > 60 || c.CameraUpVector.Z != 1 || c.CameraDirection.Y != -1 || c.CameraViewPoint.X != 10 || c.CameraViewPoint.Z != 1.3 {
		t.Errorf("%+v", c)
	}
	// The wall of 6 m has to be seen: half of it under half of the angle.
	if away := c.CameraViewPoint.Y - 20; math.Atan2(3, away) > c.FieldOfView/2*math.Pi/180 || away > 20 {
		t.Errorf("the camera stands %.2f m from the wall", away)
	}
	if strings.Contains(files[bcf.GUID("7", "b")+"/markup.bcf"], "Viewpoint") {
		t.Error("a topic without a view names one")
	}
}

// TestIDs: ids are UUIDs of version 5 in lower case (RFC 9562; the pattern of markup.xsd),
// the same each time, and those of different topics differ.
func TestIDs(t *testing.T) {
	pattern := regexp.MustCompile(`^[a-f0-9]{8}-[a-f0-9]{4}-5[a-f0-9]{3}-[89ab][a-f0-9]{3}-[a-f0-9]{12}$`)
	seen := map[string]bool{}
	for i := range 1000 {
		id := bcf.GUID("p", fmt.Sprint(i))
		if !pattern.MatchString(id) || seen[id] {
			t.Fatal(id)
		}
		seen[id] = true
	}
	var a, b bytes.Buffer
	if bcf.Write(&a, project, topics()) != nil || bcf.Write(&b, project, topics()) != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("two writings differ")
	}
}
