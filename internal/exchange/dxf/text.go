package dxf

import (
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
	"golang.org/x/text/encoding/simplifiedchinese"
	"golang.org/x/text/encoding/traditionalchinese"
)

// pages maps the numbers of code pages, as $DWGCODEPAGE gives them, to encodings.
var pages = map[string]encoding.Encoding{
	"437": charmap.CodePage437, "850": charmap.CodePage850, "852": charmap.CodePage852, "866": charmap.CodePage866,
	"874": charmap.Windows874, "932": japanese.ShiftJIS, "936": simplifiedchinese.GBK, "949": korean.EUCKR, "950": traditionalchinese.Big5,
	"1250": charmap.Windows1250, "1251": charmap.Windows1251, "1252": charmap.Windows1252, "1253": charmap.Windows1253,
	"1254": charmap.Windows1254, "1255": charmap.Windows1255, "1256": charmap.Windows1256, "1257": charmap.Windows1257, "1258": charmap.Windows1258,
}

// codePage returns the encoding that a header names, as in ANSI_1252 or dos850.
func codePage(name string) encoding.Encoding {
	return pages[strings.TrimLeft(strings.ToLower(name), "abcdefghijklmnopqrstuvwxyz_")]
}

// decode turns bytes into text: as UTF-8 where they are that, else by the page of
// the file, else by the first East Asian page that takes them, else as Western.
func decode(text string, page encoding.Encoding) string {
	if !utf8.ValidString(text) {
		text = decodeBytes(text, page)
	}
	if strings.Contains(text, `\`) {
		text = unescape(text)
	}
	return text
}

func decodeBytes(text string, page encoding.Encoding) string {
	tried := []encoding.Encoding{page}
	if page == nil {
		tried = []encoding.Encoding{japanese.ShiftJIS, simplifiedchinese.GBK, korean.EUCKR, charmap.Windows1252}
	}
	for _, e := range tried {
		if s, err := e.NewDecoder().String(text); err == nil && !strings.ContainsRune(s, utf8.RuneError) {
			return s
		}
	}
	return strings.ToValidUTF8(text, "?")
}

// escapes are characters that the file's page does not have: \U+XXXX, and before
// 2007 \M+nXXXX with two bytes of the n-th East Asian page.
var escapes = regexp.MustCompile(`\\U\+[0-9A-Fa-f]{4}|\\M\+[1-5][0-9A-Fa-f]{4}`)

var eastern = [...]string{"932", "950", "949", "", "936"} // by n less 1; Johab is not known here

func unescape(text string) string {
	return escapes.ReplaceAllStringFunc(text, func(s string) string {
		v, _ := strconv.ParseUint(s[len(s)-4:], 16, 16)
		if s[1] == 'U' {
			return string(rune(v))
		}
		page := pages[eastern[s[3]-'1']]
		if page == nil {
			return s
		}
		out, err := page.NewDecoder().String(string([]byte{byte(v >> 8), byte(v)}))
		if err != nil {
			return s
		}
		return out
	})
}

// codes of multi-line text: paragraphs, fonts, heights, colours, stacked fractions.
var (
	breaks    = regexp.MustCompile(`\\P|\\~|\^J|\n`)
	stacked   = regexp.MustCompile(`\\S([^;/#^]*)[/#^]([^;]*);`)
	formats   = regexp.MustCompile(`\\[ACFHQTWacfhqtwp][^;\\]*;|\\[LlOoKkNX]`)
	specials  = strings.NewReplacer("%%c", "Ø", "%%C", "Ø", "%%d", "°", "%%D", "°", "%%p", "±", "%%P", "±", "%%u", "", "%%U", "", "%%o", "", "%%O", "", "%%k", "", "%%K", "", "%%%", "%")
	brackets  = strings.NewReplacer(`\{`, "{", `\}`, "}", `\\`, `\`, "{", "", "}", "")
	numbered  = regexp.MustCompile(`%%\d{3}`)
	manySpace = regexp.MustCompile(`\s+`)
)

// character returns what %%nnn stands for: a character by its number, or %.
func character(code string) string {
	n, err := strconv.Atoi(code[2:])
	if err != nil || n < 32 || n > 255 {
		return ""
	}
	return string(rune(n))
}

// plain returns the words of a text without its formatting, on one line.
func plain(text string) string {
	text = breaks.ReplaceAllString(text, " ")
	text = stacked.ReplaceAllString(text, " $1/$2")
	text = specials.Replace(numbered.ReplaceAllStringFunc(brackets.Replace(formats.ReplaceAllString(text, "")), character))
	return strings.TrimSpace(manySpace.ReplaceAllString(text, " "))
}
