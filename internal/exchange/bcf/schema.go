package bcf

import "encoding/xml"

// The elements of version.xsd, project.xsd, markup.xsd and visinfo.xsd that are written,
// in the order of the schemas.
type (
	version struct {
		XMLName  xml.Name `xml:"Version"`
		ID       string   `xml:"VersionId,attr"`
		Detailed string   `xml:"DetailedVersion"`
	}
	projectExtension struct {
		XMLName xml.Name  `xml:"ProjectExtension"`
		Project projectOf `xml:"Project"`
		Schema  string    `xml:"ExtensionSchema"` // none of its own
	}
	projectOf struct {
		ID   string `xml:"ProjectId,attr"`
		Name string `xml:"Name"`
	}

	markup struct {
		XMLName    xml.Name    `xml:"Markup"`
		Header     *header     `xml:"Header"`
		Topic      topic       `xml:"Topic"`
		Viewpoints []viewpoint `xml:"Viewpoints"`
	}
	header struct {
		Files []modelFile `xml:"File"`
	}
	modelFile struct {
		Project string `xml:"IfcProject,attr"`
	}
	topic struct {
		ID          string   `xml:"Guid,attr"`
		Type        string   `xml:"TopicType,attr"`
		Status      string   `xml:"TopicStatus,attr"`
		Title       string   `xml:"Title"`
		Priority    string   `xml:"Priority,omitempty"`
		Index       int      `xml:"Index"`
		Labels      []string `xml:"Labels"`
		Date        string   `xml:"CreationDate"`
		Author      string   `xml:"CreationAuthor"`
		Description string   `xml:"Description,omitempty"`
	}
	viewpoint struct {
		ID   string `xml:"Guid,attr"`
		File string `xml:"Viewpoint"`
	}

	visualizationInfo struct {
		XMLName    xml.Name   `xml:"VisualizationInfo"`
		ID         string     `xml:"Guid,attr"`
		Components components `xml:"Components"`
		Camera     camera     `xml:"PerspectiveCamera"`
	}
	components struct {
		Selection  *selection `xml:"Selection"`
		Visibility visibility `xml:"Visibility"`
	}
	selection struct {
		Components []component `xml:"Component"`
	}
	component struct {
		IfcGUID string `xml:"IfcGuid,attr"`
		Origin  string `xml:"OriginatingSystem"`
	}
	visibility struct {
		Default bool `xml:"DefaultVisibility,attr"`
	}
	camera struct {
		Eye   vector `xml:"CameraViewPoint"`
		Along vector `xml:"CameraDirection"`
		Up    vector `xml:"CameraUpVector"`
		Field int    `xml:"FieldOfView"`
	}
	vector struct{ X, Y, Z float64 }
)
