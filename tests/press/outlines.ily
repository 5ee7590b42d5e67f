%% Tells the outline of every mark on every page, one a line of the file ink.txt:
%% page name ; x y x y ... (lower edge) ; x y x y ... (upper edge)
%% in staff spaces from the top left of the printed part of the page, y upwards.

#(define told (open-output-file "ink.txt"))

#(define (tell-edge points x y)
   (for-each
    (lambda (point)
      (if (and (finite? (car point)) (finite? (cdr point)))
          (format told " ~,3f ~,3f" (+ x (car point)) (+ y (cdr point)))))
    points))

#(define (tell page name stencil x y)
   (if (and (ly:stencil? stencil) (not (ly:stencil-empty? stencil)))
       (let ((edges (ly:skylines-for-stencil stencil X)))
         (format told "~a ~a ;" page name)
         (tell-edge (ly:skyline->points (car edges) X) x y)
         (format told " ;")
         (tell-edge (ly:skyline->points (cdr edges) X) x y)
         (newline told))))

#(define (tell-grob page system grob down)
   (tell page (grob::name grob) (ly:grob-property grob 'stencil #f)
         (ly:grob-relative-coordinate grob system X)
         (- (ly:grob-relative-coordinate grob system Y) down)))

#(define (tell-page page)
   (for-each
    (lambda (prob down)
      (let ((number (ly:prob-property page 'page-number))
            (system (ly:prob-property prob 'system-grob #f)))
        (if (ly:grob? system)
            (for-each (lambda (grob) (tell-grob number system grob down))
                      (ly:grob-array->list (ly:grob-object system 'all-elements)))
            (tell number 'Words (ly:prob-property prob 'stencil) 0 (- down)))))
    (ly:prob-property page 'lines)
    (ly:prob-property page 'configuration)))

\paper { page-post-process = #(lambda (layout pages) (for-each tell-page pages) (force-output told)) }
