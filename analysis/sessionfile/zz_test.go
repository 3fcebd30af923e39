package sessionfile

import (
	"fmt"
	"strings"
	"testing"
)

func TestZZ(t *testing.T) {
	for _, h := range strings.Split("Ball Spd,CLUB SPD,Att. Ang.,V. Launch,Sidavvikelse,Portée carry,Eje de efecto,C.Path,FTP,Spin Ax,Off-line,Hgt,Desc Ang,B. Vel,clubHeadSpd,launch_dir,Fcae Angle,Schlagergeschwindigkiet,Ballgeschw.,Schlaegerkopfgeschw,Startwinkel,Landewinkl,Flughöhe,Klubbhuvudhast,Utgångsv.,打出角度,ボール速度,キャリ距離,볼속도,클럽 헤드 속도,Velo bola,Áng. ataque,Vit. balle,Angle lancement,Carry rank,Face wear,Path of the ball,Speed of sound,Spin class,Player carry average,Zeta,Zeta A,Humidity,Temp,Video link,smash fctr,HLA,VLA,LA,Tot Dist,Side Tot,Max Ht,Hang,Face/Path,Dyn Lft,Impact X,Impact Y,Spin (side),Dev,Dist,Speed,Ang,Col1,A,B,Curve,Dir,Ball #,Impacto hor,Offline Tot.", ",") {
		w := spelled(h)
		g, o := guessed(w)
		s := ""
		for _, x := range g {
			s += fmt.Sprintf(" %s %.1f", x.field.key(), x.weight)
		}
		fmt.Println(h, w, o, s)
	}
}
