"""Two rigid bodies on springs, one on the other, from their potential energy, for test/unit/isolation/six-axis-stack.test.ts.

Run: python3 test/reference/generators/six_axis_stack.py > test/reference/data/six-axis-stack.json
Prints the loads, the gradient at rest (zero for both bodies), the twelve undamped frequencies and how both bodies follow a
turned floor. Energy of springs in the frame of the body beneath them, of their preloads and of the weights, with finite
rotations (Rodrigues); second derivatives by central differences at 50 digits. Nothing is taken over from the package.
"""
import json
import mpmath as mp, numpy as np
mp.mp.dps=50
def rot(t):
    a=mp.sqrt(sum(x*x for x in t)); K=mp.matrix([[0,-t[2],t[1]],[t[2],0,-t[0]],[-t[1],t[0],0]])
    I=mp.eye(3)
    if a==0: return I
    return I+mp.sin(a)/a*K+(1-mp.cos(a))/a**2*K*K
g=mp.mpf('9.80665')
V=lambda v: mp.matrix([mp.mpf(str(x)) for x in v])
lower=dict(m=900,I=[150,130,250],c=[0.05,-0.02,0.3],sup=[([-.7,-.5,0],),([.7,-.5,0],),([-.7,.5,0],),([.7,.5,0],)],kz=[6e4]*4,kh=[4e4]*4)
upper=dict(m=300,I=[20,24,30],c=[0.1,0.03,0.95],sup=[([-.3,-.3,.6],),([.4,-.3,.6],),([0.1,.35,.6],)],kz=[2.5e4]*3,kh=[9e3]*3)
def loads(sup,kz,W,c):
    # least-stiffness: N=k(w+..)
    A=np.zeros((3,3)); L=[]
    for (p,),k in zip(sup,kz):
        l=np.array([1,p[1]-c[1],c[0]-p[0]]); L.append(l); A+=k*np.outer(l,l)
    s=np.linalg.solve(A,[W,0,0]); return [k*l@s for l,k in zip(L,kz)]
Wl,Wu=900*float(g),300*float(g)
cc=[(900*a+300*b)/1200 for a,b in zip(lower['c'],upper['c'])]
NL=loads(lower['sup'],lower['kz'],Wl+Wu,cc); NU=loads(upper['sup'],upper['kz'],Wu,upper['c'])
def pot(q):
    # q: floor(6), lower(6), upper(6): displacement of origin & rotation vector about the origin (common)
    F=(V([0]*3)+mp.matrix(q[0:3]),rot(q[3:6])); Lb=(mp.matrix(q[6:9]),rot(q[9:12])); U=(mp.matrix(q[12:15]),rot(q[15:18]))
    def spring(base,top,sup,kz,kh,N):
        e=mp.mpf(0)
        for (p,),k,h,n in zip(sup,kz,kh,N):
            r=V(p); x=top[0]+top[1]*r; d=base[1].T*(x-base[0])-r
            e+=mp.mpf(str(h))*(d[0]**2+d[1]**2)/2+mp.mpf(str(k))*d[2]**2/2-mp.mpf(float(n))*d[2]
        return e
    e=spring(F,Lb,lower['sup'],lower['kz'],lower['kh'],NL)+spring(Lb,U,upper['sup'],upper['kz'],upper['kh'],NU)
    for b,t in ((lower,Lb),(upper,U)):
        e+=b['m']*g*(t[0]+t[1]*V(b['c']))[2]
    return e
h=mp.mpf(10)**-10
def hess(n=18):
    z=[mp.mpf(0)]*n
    H=mp.zeros(n,n)
    def at(*idx):
        q=list(z)
        for i,s in idx: q[i]+=s*h
        return pot(q)
    p0=pot(z)
    for i in range(n):
        for j in range(i,n):
            if i==j: v=(at((i,1))-2*p0+at((i,-1)))/h**2
            else: v=(at((i,1),(j,1))-at((i,1),(j,-1))-at((i,-1),(j,1))+at((i,-1),(j,-1)))/(4*h*h)
            H[i,j]=H[j,i]=v
    return H
def grad():
    z=[mp.mpf(0)]*18
    out=[]
    for i in range(18):
        a=list(z);b=list(z);a[i]+=h;b[i]-=h
        out.append(mp.nstr((pot(a)-pot(b))/(2*h),8))
    return out
if __name__=='__main__':
    H=hess(); H=np.array(H.tolist(),dtype=float)
    def M(b):
        c=np.array(b['c']); C=np.array([[0,-c[2],c[1]],[c[2],0,-c[0]],[-c[1],c[0],0]])
        M=np.zeros((6,6)); M[:3,:3]=b['m']*np.eye(3); M[:3,3:]=-b['m']*C; M[3:,:3]=b['m']*C; M[3:,3:]=np.diag(b['I'])-b['m']*C@C
        return M
    Ms=np.zeros((12,12)); Ms[:6,:6]=M(lower); Ms[6:,6:]=M(upper)
    K=H[6:,6:]; w2=np.sort(np.linalg.eigvals(np.linalg.solve(Ms,K)).real)
    G=-np.linalg.solve(K,H[6:,:6])  # static follow of floor
    plain=lambda values: [float(x) for x in values]
    print(json.dumps({
        'source': 'second derivatives of the potential energy with 50 digits',
        'units': 'loads N; frequencies Hz; motion of X, Y, Z [m] and Rx, Ry, Rz [rad] per rad of floor',
        'loads': {'lower': plain(NL), 'upper': plain(NU)},
        'gradientVanishes': all(abs(mp.mpf(x))<1e-9 for x in grad()[6:]),
        'frequencies': plain(np.sqrt(w2)/2/np.pi),
        'lowerPerFloorRx': plain(G[:6,3]), 'upperPerFloorRx': plain(G[6:,3]), 'upperPerFloorRy': plain(G[6:,4]),
    }, indent=1))
