package export

import (
	"testing"
)

const plainFile = `Range session,2026-05-01
Club,Club speed (mph),Path,Face angle,Ball speed (mph),Launch angle,Launch direction,Spin rate,Spin axis,Carry (yd),Side
,mph,deg,deg,mph,deg,deg,rpm,deg,yd,yd
7i,78.2,-2.1,1.2,104.3,17.1,0.6,6500,7.1,151.2,8.5
7i,78.0,-1.1,-1.2,104.0,17.3,-1.2,6400,-0.4,150.8,-4.0
7i,77.2,1.1,-1.0,103.0,16.9,-0.5,6450,-6,149.9,-7.1
Average,77.8,-0.7,0.3,103.8,17.1,-0.3,6450,0.2,150.6,-0.8
`

func TestReadPlain(t *testing.T) {
	r, err := Read("plain.csv", []byte(plainFile), Options{})
	if err != nil {
		t.Logf("%v", err)
	}
	t.Logf("%+v", r)
}
