package words

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"rangepost/analysis"
)

// warningCodes reads the codes out of the sources of the analysis packages: the
// string constants of every group whose comment speaks of warnings.
func warningCodes(t *testing.T) map[string]string {
	t.Helper()
	codes := map[string]string{}
	root := filepath.Join("..", "..", "analysis")
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ParseComments)
		if err != nil {
			return err
		}
		for _, decl := range file.Decls {
			group, ok := decl.(*ast.GenDecl)
			if !ok || group.Tok != token.CONST || !strings.Contains(strings.ToLower(group.Doc.Text()), "warning") {
				continue
			}
			for _, spec := range group.Specs {
				for _, value := range spec.(*ast.ValueSpec).Values {
					if lit, ok := value.(*ast.BasicLit); ok && lit.Kind == token.STRING {
						code, err := strconv.Unquote(lit.Value)
						if err != nil {
							return err
						}
						codes[code] = path
					}
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return codes
}

func TestEveryWarningHasASentence(t *testing.T) {
	codes := warningCodes(t)
	if len(codes) < 6 {
		t.Fatalf("found %d warning codes in the sources, want at least the 6 of pattern: %v", len(codes), codes)
	}
	for code, path := range codes {
		if _, ok := caveats[code]; !ok {
			t.Errorf("warning %q of %s has no sentence", code, path)
		}
	}
	for code := range caveats {
		if _, ok := codes[code]; !ok {
			t.Errorf("there is a sentence for %q, which no package warns of", code)
		}
	}
}

func TestCaveatsAreSaidOnce(t *testing.T) {
	w := []analysis.Warning{{Code: "few_balls", Count: 1}}
	got := Voice{}.Caveats(w, w, nil)
	if want := "1 ball with a landing place: too few to draw where the next one falls."; len(got) != 1 || got[0] != want {
		t.Errorf("Caveats = %q, want once %q", got, want)
	}
}
