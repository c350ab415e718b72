package german

var findings = map[string]string{}
