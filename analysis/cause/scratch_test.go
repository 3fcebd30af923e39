package cause
import ("testing";"math";"math/rand/v2";"fmt";"sort";"rangepost/analysis/player")
func TestScratch(t *testing.T){
  type acc struct{ n int; z2, ratio []float64; held int }
  m := map[string]*acc{}
  for i:=0;i<900;i++ {
	s := session(i, func(*player.Device, *rand.Rand){})
	for _, q := range []struct{n string; e, tr float64; lo,hi float64; ok bool}{{"face",s.said.Face.Mean,s.truth.Face,s.said.Face.Low,s.said.Face.High,s.said.Face.OK},{"path",s.said.Path.Mean,s.truth.Path,s.said.Path.Low,s.said.Path.High,s.said.Path.OK}} {
		if !q.ok { continue }
		big := "small"; if math.Abs(q.tr)>6 { big="big" }
		few := "few"; if s.balls>=20 { few="many" }
		k := s.club.Key()+" "+q.n+" "+big+" "+few
		a := m[k]; if a==nil { a=&acc{}; m[k]=a }
		a.n++
		z := (q.e-q.tr)/((q.hi-q.lo)/3.92)
		a.z2=append(a.z2,z*z)
		if q.lo<=q.tr && q.tr<=q.hi { a.held++ }
		if big=="big" { a.ratio=append(a.ratio,q.e/q.tr) }
	}
  }
  var ks []string; for k := range m { ks=append(ks,k) }; sort.Strings(ks)
  for _,k := range ks { a:=m[k]; sort.Float64s(a.ratio); s:=0.0; for _,z:=range a.z2 {s+=z}; med,lo,hi:=0.,0.,0.; if l:=len(a.ratio);l>0 {med=a.ratio[l/2];lo=a.ratio[l/10];hi=a.ratio[l*9/10]}
	fmt.Printf("%-28s n %d held %.2f rms z %.2f ratio %.2f (%.2f %.2f)\n",k,a.n,float64(a.held)/float64(a.n),math.Sqrt(s/float64(a.n)),med,lo,hi) }
}
