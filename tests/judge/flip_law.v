Require Import List Bool ZArith Permutation.
Import ListNotations.
Open Scope Z_scope.

(* Space: x to the right, y up, z to the viewer. A spot is where a piece is, and where its first face looks. *)
Definition vector := (Z * Z * Z)%type.
Definition spot := (vector * vector)%type.
Definition dot (v w : vector) := let '(a, b, c) := v in let '(d, e, f) := w in a * d + b * e + c * f.
Definition cross (v w : vector) : vector :=
  let '(a, b, c) := v in let '(d, e, f) := w in (b * f - c * e, c * d - a * f, a * e - b * d).
Definition plus (v w : vector) : vector := let '(a, b, c) := v in let '(d, e, f) := w in (a + d, b + e, c + f).
Definition times k (v : vector) : vector := let '(a, b, c) := v in (k * a, k * b, k * c).
Definition is_v (v w : vector) : {v = w} + {v <> w}. Proof. repeat decide equality. Defined.
Definition is (s t : spot) : {s = t} + {s <> t}. Proof. repeat decide equality. Defined.

(* A turn takes what lies on its side a quarter clockwise round, seen from outside: v x n + n (n . v). *)
Inductive side := U | D | F | B | L | R.
Definition sides := [U; D; F; B; L; R].
Definition out t : vector := match t with
  U => (0, 1, 0) | D => (0, -1, 0) | F => (0, 0, 1) | B => (0, 0, -1) | L => (-1, 0, 0) | R => (1, 0, 0) end.
Definition quarter n v := plus (cross v n) (times (dot n v) n).
Definition carried t v := if 0 <? dot (out t) v then quarter (out t) v else v.
Definition turn t (s : spot) : spot :=
  (carried t (fst s), if 0 <? dot (out t) (fst s) then quarter (out t) (snd s) else snd s).
Definition after (word : list side) s := fold_left (fun s t => turn t s) word s.

(* Three slabs each way. A piece's first face looks up or down, of a middle edge to the front or the back. *)
Definition range := [-1; 0; 1].
Definition cells : list vector := flat_map (fun x => flat_map (fun y => map (fun z => (x, y, z)) range) range) range.
Definition pieces := filter (fun v => 0 <? dot v v) cells.
Definition edges := filter (fun v => dot v v =? 2) cells.
Definition first (v : vector) : vector := let '(x, y, z) := v in
  if negb (y =? 0) then (0, y, 0) else if negb (z =? 0) then (0, 0, z) else v.
Definition home v : spot := (v, first v).
Definition flipped v : spot := (v, plus v (times (-1) (first v))).
Definition flip (s : spot) := if is_v (snd s) (first (fst s)) then false else true.
Definition spots := map home edges ++ map flipped edges.
Definition sum := fold_right xorb false.

(* The flip law: edges lie in all places for edges, and evenly many of them are flipped. *)
Definition law (p : list spot) := sum (map flip p) = false.
Definition whole (p : list spot) := Permutation (map fst p) edges /\ forall s, In s p -> In s spots.

Definition changes t v := flip (turn t (home v)).
Definition true_of (A : Type) (P : A -> bool) l := forall x, In x l -> P x = true.
Lemma all_of A (P : A -> bool) l : forallb P l = true -> true_of A P l.
Proof. intros H x; now apply forallb_forall. Qed.

Lemma spot_turns : true_of _ (fun t => forallb (fun s => (if in_dec is (turn t s) spots then true else false)
  && eqb (flip (turn t s)) (xorb (flip s) (changes t (fst s)))) spots) sides.
Proof. now apply all_of. Qed.
Lemma even_turns : true_of _ (fun t => negb (sum (map (changes t) edges))) sides.
Proof. now apply all_of. Qed.
Lemma in_sides t : In t sides. Proof. destruct t; simpl; tauto. Qed.

Lemma around t : Permutation (map (carried t) edges) edges.
Proof.
  apply NoDup_Permutation_bis.
  - replace (map (carried t) edges) with (nodup is_v (map (carried t) edges)) by (destruct t; reflexivity). apply NoDup_nodup.
  - now rewrite map_length.
  - intros v. enough (H : forallb (fun v => if in_dec is_v v edges then true else false) (map (carried t) edges) = true).
    + rewrite forallb_forall in H. intros I. specialize (H v I). now destruct in_dec.
    + now destruct t.
Qed.

Lemma sum_order l m : Permutation l m -> sum l = sum m.
Proof. induction 1; simpl; try congruence. now destruct x, y, (sum l). Qed.

Lemma one_turn t p : whole p -> whole (map (turn t) p) /\ (law p -> law (map (turn t) p)).
Proof.
  intros [places in_spots]; pose proof (spot_turns t (in_sides t)) as known; rewrite forallb_forall in known.
  repeat split.
  - rewrite map_map. change (Permutation (map (fun s => carried t (fst s)) p) edges). rewrite <- (map_map fst (carried t)).
    now rewrite places, around.
  - intros s (r & <- & I)%in_map_iff. specialize (known r (in_spots r I)). now destruct in_dec.
  - unfold law. intros <-. rewrite map_map.
    assert (split : sum (map (fun s => flip (turn t s)) p) = xorb (sum (map flip p)) (sum (map (changes t) (map fst p)))).
    { clear places. induction p as [|s p IH]; [reflexivity|]; simpl. rewrite IH by (intros r I; apply in_spots; now right).
      specialize (known s (in_spots s (or_introl eq_refl))). apply andb_prop in known as [_ E%eqb_prop]. rewrite E.
      now destruct (flip s), (changes t (fst s)), (sum (map flip p)), (sum (map (changes t) (map fst p))). }
    rewrite split, (sum_order _ _ (Permutation_map (changes t) places)).
    pose proof (even_turns t (in_sides t)) as E. apply negb_true_iff in E. now rewrite E, xorb_false_r.
Qed.

Theorem flip_law word : law (map (after word) (map home edges)).
Proof.
  enough (H : forall p, whole p -> law p -> law (map (after word) p)).
  { apply H; [split|reflexivity]; [now rewrite map_map, map_id|intros s I; apply in_or_app; now left]. }
  induction word as [|t word IH]; intros p W L.
  - now rewrite map_id.
  - change (after (t :: word)) with (fun s => after word (turn t s)). rewrite <- map_map. apply IH; now apply one_turn.
Qed.

(* One ticket: an edge looks flipped, all else looks at home. Middle edges look the same flipped: each could be flipped, too. *)
Definition between t u := plus (out t) (out u).
Definition wrong := $wrong.
Definition told (more : list vector) v := if in_dec is_v v (wrong :: more) then flipped v else home v.
Definition unseen (v : vector) := let '(x, y, z) := v in y =? 0.
Definition looks_solved (v : vector) (s : spot) :=
  (if is_v (fst s) v then true else false) && (unseen v || if is s (home v) then true else false).
Definition culprits : list (vector * list side) := [
  $culprits].
Definition ways : list (list side) := [
  $ways].

(* No turns lead to it as it looks at face value. *)
Theorem face_value word : map (after word) (map home edges) <> map (told []) edges.
Proof. intros E. pose proof (flip_law word) as L. unfold law in L. rewrite E in L. discriminate. Qed.

(* Some turns lead to it with each of the culprits flipped, and these are all edges that look the same flipped. *)
Theorem set_ups :
  map (fun '(c, word) => map (after word) (map home pieces)) culprits = map (fun c => map (told [fst c]) pieces) culprits.
Proof. vm_compute. reflexivity. Qed.
Theorem every_culprit : Permutation (map fst culprits) (filter unseen edges).
Proof.
  apply NoDup_Permutation_bis; [|apply le_n|].
  - now replace (map fst culprits) with (nodup is_v (map fst culprits)) by reflexivity; apply NoDup_nodup.
  - intros v I.
    enough (H : forallb (fun v => if in_dec is_v v (filter unseen edges) then true else false) (map fst culprits) = true).
    + rewrite forallb_forall in H. specialize (H v I). now destruct in_dec.
    + reflexivity.
Qed.

(* Each way out solves it, whichever of them it is. *)
Theorem ways_out : forallb (fun way => forallb (fun c =>
  forallb (fun v => looks_solved v (after way (told [fst c] v))) pieces) culprits) ways = true.
Proof. vm_compute. reflexivity. Qed.

Print Assumptions flip_law. Print Assumptions face_value. Print Assumptions set_ups.
Print Assumptions every_culprit. Print Assumptions ways_out.
