package templates

import "github.com/BurntSushi/toml"

// maxDepth is how many lists and tables a template may hold in one another; one has two. The library that reads TOML takes memory by the
// square of the depth.
const maxDepth = 32

// deep tells whether text opens more lists and tables in one another than a template may hold, outside of texts and comments.
func deep(text []byte) bool {
	depth, quote := 0, byte(0)
	for i := 0; i < len(text); i++ {
		c := text[i]
		switch {
		case quote != 0:
			if c == '\\' && quote == '"' {
				i++
			} else if c == quote || c == '\n' {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '#':
			for i < len(text) && text[i] != '\n' {
				i++
			}
		case c == '[' || c == '{':
			if depth++; depth > maxDepth {
				return true
			}
		case c == ']' || c == '}':
			depth--
		}
	}
	return false
}

// AudienceOf is the audience that a template names, "" where it names none or can't be read.
func AudienceOf(data []byte) string {
	var head struct{ Audience string }
	if deep(data) {
		return ""
	}
	if _, err := toml.Decode(string(data), &head); err != nil {
		return ""
	}
	return head.Audience
}
