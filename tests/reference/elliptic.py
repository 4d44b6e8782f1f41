"""Writes elliptic.csv: elliptic integrals and Jacobi's functions to 20 digits. Run: python3 elliptic.py > elliptic.csv"""

import mpmath

mpmath.mp.dps = 40
print("# what: elliptic integrals K(m), E(m), F(phi, m), E(phi, m), amplitude am(u, m); parameter m = k squared")
print(f"# source: mpmath {mpmath.__version__}, 40 digits, by elliptic.py; date: 2026-11-25; tolerance: 4e-15 relative")
print("function,argument,m,value")
for m in ("0.09", "0.25", "0.5", "0.64", "0.81", "0.95"):
    exact = mpmath.mpf(m)
    print(f"K,,{m},{mpmath.nstr(mpmath.ellipk(exact), 20)}")
    print(f"E,,{m},{mpmath.nstr(mpmath.ellipe(exact), 20)}")
    for phi in ("-0.7", "0.3", "1.2", "2.5"):
        print(f"F,{phi},{m},{mpmath.nstr(mpmath.ellipf(mpmath.mpf(phi), exact), 20)}")
        print(f"E,{phi},{m},{mpmath.nstr(mpmath.ellipe(mpmath.mpf(phi), exact), 20)}")
    for u in ("-0.8", "0.4", "1.3"):
        sn, cn = (mpmath.ellipfun(name, mpmath.mpf(u), m=exact) for name in ("sn", "cn"))
        print(f"am,{u},{m},{mpmath.nstr(mpmath.atan2(sn, cn), 20)}")
