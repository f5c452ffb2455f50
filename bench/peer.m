% One side of the comparison: GNU Octave with its control package. Reads tasks as lines of JSON, answers each with one line.
1;

function x = noise (count)
  x = zeros (count, 1);
  s = 1;
  for k = 1:count
    s = mod (48271 * s, 2147483647);
    x(k) = s / 2147483647 - 0.5;
  endfor
endfunction

function value = pairs (G, w)
  value = cell (1, numel (w));
  for k = 1:numel (w)
    for i = 1:rows (G)
      for j = 1:columns (G)
        value{k}{i}{j} = [real(G(i, j, k)), imag(G(i, j, k))];
      endfor
    endfor
  endfor
endfunction

pkg load control
here = fileparts (mfilename ("fullpath"));
models = jsondecode (fileread (fullfile (here, "models.json")));
while (true)
  try line = input ("", "s"); catch break; end_try_catch
  if (isempty (line)) break; endif
  order = jsondecode (line);
  value = [];
  times = zeros (order.repeats, 1);
  switch (order.task)
    case "versions"
      package = pkg ("list", "control");
      printf ("%s\n", jsonencode (sprintf ("Octave %s, control %s", OCTAVE_VERSION, package{1}.version)));
      fflush (stdout);
      continue
    case {"response12", "response60", "chain60"}
      names = struct ("response12", "siso12", "response60", "mimo60", "chain60", "chain60");
      M = models.(names.(order.task));
      if (columns (M.A) != rows (M.B)) M.B = M.B(:); endif
      sys = ss (M.A, reshape (M.B, rows (M.A), []), reshape (M.C, [], columns (M.A)), M.D);
      w = 2 * pi * order.size(:).';
      for r = 1:order.repeats
        busy = cputime;
        G = freqresp (sys, w);
        times(r) = 1e3 * (cputime - busy);
      endfor
      if (order.read) value = pairs (G, w); endif
    case "simulate"
      M = models.siso12;
      sys = ss (M.A, M.B(:), M.C(:).', M.D);
      u = noise (order.size.count);
      t = (0:order.size.count - 1).' * order.size.step;
      for r = 1:order.repeats
        busy = cputime;
        y = lsim (sys, u, t);
        times(r) = 1e3 * (cputime - busy);
      endfor
      if (order.read) value = y(1:order.size.every:end); endif
  endswitch
  printf ("%s\n", jsonencode (struct ("times", times, "value", {value})));
  fflush (stdout);
endwhile
